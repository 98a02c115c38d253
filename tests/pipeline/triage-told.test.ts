import { readFileSync } from "node:fs";
import sharp, { type Sharp } from "sharp";
import { describe, expect, it } from "vitest";
import type { WarningCode } from "../../src/6-report/report.js";
import { normalDeviate, seededRandom } from "../../src/core/random.js";
import type { PrepareOptions } from "../../src/options/options.js";
import type { FindingCode } from "../../src/pipeline/triage/findings.js";
import { reportOf } from "../support/prepare.js";
import { photographPath } from "./photograph.js";

const photo = readFileSync(photographPath("nagasaki-boats"));
const picture = (): Sharp => sharp(photo).resize(900).greyscale();
const png = (made: Sharp): Promise<Buffer> => made.png().toBuffer();

/** Black and white dots of one pixel. */
async function dots(): Promise<Buffer> {
  const { data, info } = await picture().raw().toBuffer({ resolveWithObject: true });
  const random = Uint8Array.from(data, (code, i) => (code > (i * 97) % 251 ? 255 : 0));
  return png(sharp(random, { raw: { width: info.width, height: info.height, channels: 1 } }));
}

/** Black on the left, white on the right, over a third of the width each. */
async function clipped(): Promise<Buffer> {
  const { width, height } = (await picture().toBuffer({ resolveWithObject: true })).info;
  const bar = (background: string) =>
    png(sharp({ create: { width: Math.floor(width / 3), height, channels: 3, background } }));
  const [black, white] = await Promise.all([bar("#000"), bar("#fff")]);
  return png(
    sharp(await png(picture())).composite([
      { input: black, left: 0, top: 0 },
      { input: white, left: Math.floor((2 * width) / 3), top: 0 },
    ]),
  );
}

/** A window with even areas in some greys. */
const screen = (): Promise<Buffer> =>
  png(
    sharp(
      Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="900" height="700"><rect width="900" height="700" fill="#dde"/><rect y="0" width="900" height="60" fill="#345"/>${Array.from({ length: 30 }, (_, k) => `<rect x="${40 + (k % 6) * 140}" y="${90 + Math.floor(k / 6) * 120}" width="120" height="100" fill="rgb(${40 + 6 * k} ${60 + 5 * k} 120)"/>`).join("")}</svg>`,
      ),
    ),
  );

const lettered =
  '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="60"><rect width="45" height="60"/><text x="50" y="30">Quay</text></svg>';
/** Grain of a standard deviation of 24 codes. */
async function grainy(): Promise<Buffer> {
  const { data, info } = await picture().raw().toBuffer({ resolveWithObject: true });
  const random = seededRandom(3);
  const grain = data.map((code) => Math.max(0, Math.min(255, code + 24 * normalDeviate(random))));
  return png(sharp(grain, { raw: { width: info.width, height: info.height, channels: 1 } }));
}

const pages = async (): Promise<Buffer> => {
  const pages = await Promise.all([png(picture()), png(picture().negate())]);
  return sharp(pages, { join: { animated: true } })
    .gif()
    .toBuffer();
};

/** How prepare tells each finding: by a warning, or `undefined` for what has another place in the report. */
const toldBy: Readonly<Record<FindingCode, WarningCode | undefined>> = {
  DAMAGED: "photo-damaged",
  TOO_FEW_PIXELS: "photo-coarse-for-size",
  BLURRED: "photo-blurred",
  GRAINY: "photo-grainy",
  CLIPPED_HIGHLIGHTS: "photo-clipped-highlights",
  CLIPPED_SHADOWS: "photo-clipped-shadows",
  TOO_DARK: "few-tones",
  TOO_PALE: "few-tones",
  LOW_CONTRAST: "photo-low-contrast",
  BLOCKS: "photo-blocks",
  ALREADY_DITHERED: "photo-dithered",
  SCREENSHOT: "photo-screenshot",
  ARTWORK: "looks-like-artwork",
  TRANSPARENT: undefined, // input.transparent
  MANY_PAGES: "photo-pages",
  TEXT_NOT_OUTLINED: "photo-text",
  CROPPED: undefined, // input.shownShare, and "much-cut-off"
  STRETCHED: "photo-stretched",
  EXTREME_SHAPE: undefined, // job.widthMm and job.heightMm head the summary
  NOTHING_BURNS: "nothing-to-see",
  COLOURS_MERGE: "colours-merge",
  PARTS_LOST: "distinctions-lost",
  SHADES_LOST: "not-as-drawn",
};

const made: readonly (readonly [FindingCode, () => Promise<Buffer>, PrepareOptions?])[] = [
  ["TOO_FEW_PIXELS", () => png(picture().resize(120))],
  ["BLURRED", () => png(picture().blur(8))],
  ["GRAINY", grainy],
  ["CLIPPED_HIGHLIGHTS", clipped],
  ["CLIPPED_SHADOWS", clipped],
  ["TOO_DARK", () => png(picture().linear(0.12))],
  ["TOO_PALE", () => png(picture().linear(0.12, 220))],
  ["LOW_CONTRAST", () => png(picture().linear(0.12, 110))],
  ["BLOCKS", () => picture().jpeg({ quality: 5 }).toBuffer()],
  ["BLOCKS", async () => png(sharp(await picture().jpeg({ quality: 5 }).toBuffer()))],
  ["ALREADY_DITHERED", dots],
  ["SCREENSHOT", screen],
  ["MANY_PAGES", pages],
  ["TEXT_NOT_OUTLINED", async () => Buffer.from(lettered)],
  ["STRETCHED", () => png(picture()), { heightMm: 80, fit: "stretch" }],
  [
    "NOTHING_BURNS",
    () => png(sharp({ create: { width: 900, height: 600, channels: 3, background: "#aaa" } })),
  ],
];

describe("prepare tells what triage tells", () => {
  for (const [code, file, options] of made) {
    it(code, async () => {
      const report = await reportOf(await file(), {
        ...{
          kind: "photo",
          widthMm: 60,
          linesPerInch: 254,
          method: "floyd-steinberg",
          bitmapOnly: code !== "NOTHING_BURNS",
        },
        ...options,
      });
      expect(report.warnings.map((warning) => warning.code)).toContain(toldBy[code]);
      // Most of these files are PNG.
      for (const { message } of report.warnings) expect(message).not.toMatch(/JPEG/);
    });
  }

  it("and nothing of a good photo", async () => {
    const options = { kind: "photo", widthMm: 60, linesPerInch: 254, method: "floyd-steinberg" } as const;
    const report = await reportOf(await png(picture()), options);
    const codes = report.warnings.map(({ code }) => code);
    expect(codes.filter((code) => Object.values(toldBy).includes(code))).toEqual([]);
  });
});
