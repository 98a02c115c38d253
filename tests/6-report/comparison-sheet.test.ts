import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import type { RgbPicture } from "../../src/6-report/canvas.js";
import {
  type CandidatePictures,
  type Comparison,
  compare,
  comparisonSheet,
  encodePreviewPng,
} from "../../src/index.js";
import { differenceFromGolden } from "../support/golden.js";

const wedge = fileURLToPath(new URL("../../sample-images/step-wedge.png", import.meta.url));

let made: Comparison;
const small: CandidatePictures["small"][] = [];
let sheet: RgbPicture;

beforeAll(async () => {
  made = await compare(
    await readFile(wedge),
    {
      ...{ widthMm: 16, heightMm: 10, linesPerInch: 200, spotMm: 0.115, material: "maple" },
      method: ["floyd-steinberg", "clustered-dot", "threshold"],
    },
    {
      fileName: "step-wedge.png",
      pictures: true,
      onCandidate: ({ index, pictures }) => {
        if (pictures) small[index] = pictures.small;
      },
    },
  );
  sheet = comparisonSheet(made, small);
});

/** How many times a picture stands in another, pixel by pixel. */
function places({ columns, rows, rgb }: RgbPicture, part: RgbPicture): number {
  const row = (of: Uint8Array, wide: number, x: number, y: number) =>
    Buffer.from(of.buffer, of.byteOffset + 3 * (y * wide + x), 3 * part.columns);
  let found = 0;
  for (let y = 0; y + part.rows <= rows; y++) {
    for (let x = 0; x + part.columns <= columns; x++) {
      let same = 0;
      while (
        same < part.rows &&
        row(rgb, columns, x, y + same).equals(row(part.rgb, part.columns, 0, same))
      ) {
        same++;
      }
      if (same === part.rows) found++;
    }
  }
  return found;
}

describe("comparisonSheet", () => {
  it("has each candidate's piece and marks, untouched, once", () => {
    for (const { whole, marks } of small) {
      expect(places(sheet, whole)).toBe(1);
      expect(places(sheet, marks)).toBe(1);
    }
  });

  it("sets off the winners by a heavier frame", () => {
    // 0x22 on a run of three rows or more: frames of the others are one pixel of a lighter grey.
    const won = new Set(Object.values(made.winners)).size;
    const { columns, rows, rgb } = sheet;
    const dark = (y: number) => {
      let longest = 0;
      for (let x = 0, run = 0; x < columns; x++) {
        run = rgb[3 * (y * columns + x)] === 0x22 ? run + 1 : 0;
        longest = Math.max(longest, run);
      }
      return longest > 100;
    };
    const lines = Array.from({ length: rows }, (_, y) => dark(y)).filter(Boolean).length;
    expect(lines % 3).toBe(0);
    expect(lines / 3).toBeGreaterThanOrEqual(2);
    expect(lines / 3).toBeLessThanOrEqual(2 * won);
  });

  it("keeps long names within their card", () => {
    const name = "a very long name of a material without end and-without-any-place-to-break-it-in-two-parts";
    const candidates = made.candidates.map((one, k) => ({ ...one, material: `${name} ${k}` }));
    const long = comparisonSheet({ ...made, candidates }, small);
    expect(long.columns).toBe(sheet.columns);
    expect(long.rows).toBeGreaterThan(sheet.rows);
    // Nothing is drawn in the gutters but paper.
    const margin = 28;
    const beside = margin + (sheet.columns - 4 * margin) / 3 + margin / 2;
    for (let y = 100; y < long.rows; y++)
      expect(long.rgb[3 * (y * long.columns + Math.round(beside))]).toBe(0xf6);
  });

  it("golden (regression only): three halftones of a step wedge", async () => {
    expect(differenceFromGolden("comparison-of-step-wedge", await encodePreviewPng(sheet))).toBe(0);
  });
});
