/**
 * Encodes the HEIC pictures of the tests, because the decoder of the other formats cannot: `npx tsx tests/1-photo/data/make-heic.ts`
 * with heif-enc (Debian: libheif-examples).
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { heicSource } from "../heic-source.js";

const folder = mkdtempSync(join(tmpdir(), "spotpitch-heic-"));
const encode = (name: string, file: string, picture: Uint8Array): void => {
  const path = join(folder, file);
  writeFileSync(path, picture);
  execFileSync("heif-enc", ["-q", "90", path, "-o", new URL(`${name}.heic`, import.meta.url).pathname]);
};
const source = await heicSource();
encode("harbour", "plain.png", await source.clone().png().toBuffer());
encode("harbour-p3", "p3.png", await source.clone().withIccProfile("p3").png().toBuffer());
// With an orientation that does not count: HEIF turns pictures by properties of its own.
encode(
  "harbour-exif",
  "exif.jpg",
  await source
    .clone()
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 100, chromaSubsampling: "4:4:4" })
    .toBuffer(),
);
encode("harbour-clear", "clear.png", await source.clone().ensureAlpha(0.5).png().toBuffer());
rmSync(folder, { recursive: true });
