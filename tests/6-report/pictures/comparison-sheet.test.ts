import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { encodePreviewPng } from "../../../src/6-report/files/preview-png.js";
import { textWidth } from "../../../src/6-report/pictures/canvas.js";
import { broken } from "../../../src/6-report/pictures/comparison-sheet.js";
import { type CandidatePictures, type Comparison, comparisonSheet } from "../../../src/index.js";
import { differenceFromGolden } from "../../support/golden.js";
import { compare } from "../../support/prepare.js";

/** A comparison of a drawn ramp, with its pictures. */
async function compared(methods: string[]): Promise<readonly [Comparison, CandidatePictures[]]> {
  const ramp = new Uint8Array(60 * 30 * 3);
  for (let i = 0; i < 60 * 30; i++) ramp.fill(Math.round(((i % 60) * 255) / 59), 3 * i, 3 * i + 3);
  const photo = await encodePreviewPng({ rgb: ramp, columns: 60, rows: 30 });
  const pictures: CandidatePictures[] = [];
  const made = await compare(
    photo,
    { widthMm: 6, linesPerInch: 254, spotMm: 0.115, material: "maple", method: methods },
    {
      fileName: "ramp.png",
      pictures: true,
      threads: 1,
      onCandidate({ index, pictures: seen }) {
        if (seen) pictures[index] = seen;
      },
    },
  );
  return [made, pictures];
}

describe("the contact sheet", () => {
  it("is the one that was looked at", async () => {
    const [made, pictures] = await compared(["floyd-steinberg", "clustered-dot"]);
    const file = await comparisonSheet(made, pictures);
    expect(differenceFromGolden("comparison-sheet", file)).toBe(0);
    const { width, height } = PNG.sync.read(Buffer.from(file));
    // Two pictures side by side, and text below them.
    expect(width).toBeGreaterThan(2 * pictures[0].small.whole.columns);
    expect(height).toBeGreaterThan(pictures[0].small.whole.rows + pictures[0].small.marks.rows + 100);
  });

  it("breaks names that are too long, at spaces where there are any, and loses no letter", () => {
    for (const text of [
      "1  a-very-long-name-of-a-material-that-nobody-would-give, 254 lines per inch",
      "short",
      "a b c",
    ]) {
      const lines = broken(text, 120);
      for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(120);
      expect(lines.join("").replaceAll(" ", "")).toBe(text.replaceAll(" ", ""));
    }
    expect(broken("a b c", 500)).toEqual(["a b c"]);
  });
});
