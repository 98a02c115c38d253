import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { type DeskUpload, deskPage } from "../../../src/batch/desk/desk-page.js";
import { preparedEntry, refusedEntry } from "../../../src/batch/entry.js";
import { listedVerdicts, verdictOf } from "../../../src/batch/lists.js";
import { sha256 } from "../../../src/batch/sha256.js";
import { thumbnailName } from "../../../src/batch/thumbnail.js";
import { METRIC } from "../../../src/core/shown-units.js";
import { finding } from "../../../src/pipeline/triage/words.js";

export const figures = {
  ...{ widthPx: 1200, heightPx: 900, pxPerMm: 15, neededPxPerMm: 10, largestWidthMm: 120, blurMm: 0.1 },
  ...{ clippedHighlights: 0, clippedShadows: 0, lightnessRange: 80, blocking: 0.1 },
  ...{ widthMm: 80, heightMm: 60, units: METRIC, assumed: [] },
  ...{ linesPerInch: 254, method: "floyd-steinberg", material: "slate", seconds: 300, visualErrorRms: 0.6 },
};

/** Different small pictures: two tones of a photo and of its piece. */
async function madePictures(count: number): Promise<string[]> {
  return Promise.all(
    Array.from({ length: count }, async (_, i) => {
      const [dark, light] = i % 2 === 0 ? ["#27445a", "#d9b48f"] : ["#333", "#ddd"];
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="320" height="${i % 3 === 0 ? 320 : 240}"><rect width="320" height="320" fill="${light}"/><circle cx="${40 + ((i * 13) % 240)}" cy="120" r="80" fill="${dark}"/></svg>`;
      const bytes = await sharp(Buffer.from(svg)).webp({ quality: 60 }).toBuffer();
      return bytes.toString("base64");
    }),
  );
}

const PICTURES = 24;

/** Uploads in turn: ready, with a note, to ask about, refused. Every tenth has the content of the one before. */
export async function madeUploads(count: number): Promise<{ uploads: DeskUpload[]; pictures: string[] }> {
  const pictures = await madePictures(PICTURES);
  const uploads = Array.from({ length: count }, (_, i): DeskUpload => {
    const file = `week 12/quay-${i}.jpg`;
    const record = {
      entry: i % 4 === 3 ? refusedEntry(file, "INPUT_DAMAGED", `"${file}" is damaged.`) : prepared(file, i),
      contentSha256: sha256(String(i % 10 === 9 ? i - 1 : i)),
      jobSha256: sha256(`job ${i}`),
    };
    const [{ entry: told }] = listedVerdicts([verdictOf(record, undefined)], []);
    const entry = { ...told, columns: { Order: `no. ${count - i}`, customer: "" } };
    if (i % 4 === 3) return { entry };
    const at = 2 * (i % (PICTURES / 2));
    const path = (k: number): string => `thumbnails/${thumbnailName(pictures[k])}`;
    return { entry, photo: path(at), prediction: path(at + 1) };
  });
  return { uploads, pictures };
}

function prepared(file: string, i: number) {
  const outputs = ["burn.png", "preview.png", "report.html", "report.json"].map(
    (end) => `week 12/quay-${i}/quay-${i}.${end}`,
  );
  const grade = (["ready", "note", "ask"] as const)[i % 4];
  const findings =
    grade === "ready"
      ? []
      : [
          finding("BLURRED", { grade, blurMm: 0.6, blurSpots: 6 }),
          finding("TRANSPARENT", { grade: "note", share: 0.2 }),
        ];
  return preparedEntry(file, { findings, figures: { ...figures, seconds: 60 + ((i * 37) % 1800) } }, outputs);
}

/** A folder with the page of so many uploads and its small pictures, as a batch leaves it. Returns the page's path. */
export async function madeDesk(folder: string, count: number): Promise<string> {
  const { uploads, pictures } = await madeUploads(count);
  mkdirSync(join(folder, "thumbnails"), { recursive: true });
  for (const picture of pictures)
    writeFileSync(join(folder, "thumbnails", thumbnailName(picture)), Buffer.from(picture, "base64"));
  const page = join(folder, "index.html");
  writeFileSync(page, deskPage(uploads));
  writeFileSync(join(folder, "batch.json"), JSON.stringify({ uploads: uploads.map(({ entry }) => entry) }));
  return page;
}
