/**
 * How the kind of a picture is guessed, over whole folders of pictures:
 *
 *   npm run bench:artwork-guess -- FOLDER...
 *
 * One row for each folder: pictures guessed as solid artwork, photos with a hint that they may be artwork, and photos without a
 * hint. `--list` also prints the names of the first two. Drawings are rendered 1000 pixels wide. Files with the same bytes count
 * once, links do not count, and files that the decoder refuses have their own column.
 *
 * The guess was not tuned on these pictures from Debian, which need no installation:
 *
 *   apt-get download tango-icon-theme adwaita-icon-theme python3-skimage
 *   for each in *.deb; do dpkg-deb -x "$each" pictures; done
 *
 * - coloured icons, drawings: `pictures/usr/share/icons/Tango/scalable`;
 * - icons in one colour, drawings: `pictures/usr/share/icons/Adwaita/scalable`;
 * - photographs, gradients and computer pictures: `pictures/usr/lib/python3/dist-packages/skimage/data`.
 *
 * The counts depend slightly on the release.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { decodePhoto } from "../src/1-photo/decode.js";
import { resolveOptions } from "../src/options/options.js";
import { settleKind } from "../src/pipeline/photo/settle-kind.js";

const PICTURE = /\.(jpe?g|png|webp|avif|gif|tiff?|svg)$/i;

type Guess = "artwork" | "hinted at" | "photo" | "refused";

const options = resolveOptions({});

/** Paths of the pictures in a folder and below it. Of files with the same bytes, the first by name. */
function picturesIn(folder: string): string[] {
  const seen = new Set<string>();
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && PICTURE.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .filter((path) => {
      const content = createHash("sha256").update(readFileSync(path)).digest("hex");
      return !seen.has(content) && seen.add(content);
    });
}

async function guessOf(path: string): Promise<Guess> {
  const bytes = readFileSync(path);
  const photo = await decodePhoto(bytes).catch(() => undefined);
  if (!photo) return "refused";
  const { resolved, looksLikeArtwork } = settleKind(options, photo);
  if (resolved.kind === "solid") return "artwork";
  return looksLikeArtwork ? "hinted at" : "photo";
}

const { values, positionals } = parseArgs({
  options: { list: { type: "boolean", default: false } },
  allowPositionals: true,
});
if (positionals.length === 0) {
  throw new Error("Name a folder of pictures: npm run bench:artwork-guess -- FOLDER");
}

console.log("| folder | pictures | artwork | photo with hint | photo | refused |");
console.log("|---|---|---|---|---|---|");
const named: string[] = [];
for (const folder of positionals) {
  const counts: Record<Guess, number> = { artwork: 0, "hinted at": 0, photo: 0, refused: 0 };
  const paths = picturesIn(folder);
  for (const path of paths) {
    const guess = await guessOf(path);
    counts[guess]++;
    if (guess === "artwork" || guess === "hinted at") named.push(`${guess}: ${path}`);
  }
  const { artwork, photo, refused } = counts;
  const decoded = paths.length - refused;
  console.log(`| ${folder} | ${decoded} | ${artwork} | ${counts["hinted at"]} | ${photo} | ${refused} |`);
}
if (values.list) console.log(["", ...named].join("\n"));
