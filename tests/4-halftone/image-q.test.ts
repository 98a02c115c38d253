import * as iq from "image-q";
import { describe, expect, it } from "vitest";
import type { DiffusionKernel } from "../../src/4-halftone/kernels.js";
import type { Scan } from "../../src/4-halftone/method.js";
import { seededRandom } from "../../src/core/random.js";
import { exact } from "../reference/arithmetic.js";
import { diffuse } from "../reference/textbook-diffusion.js";
import { stencil } from "../support/stencil.js";

/*
 * Compares the textbook engine bit for bit with image-q 4.0.0, a general colour quantiser with its own stencils.
 * (`textbook.test.ts` compares the engine of the stage with the textbook engine.)
 *
 * image-q differs from plain diffusion in three ways. By default it passes on the error of the picture; its last option selects
 * the error of the corrected value. It clamps corrected values to 0..255, which loses error; two greys far from both ends avoid
 * that. And it rounds them to whole levels, which equals plain diffusion of a picture with the rounding added. Our engine gets
 * that picture. A corrected value then lies half a level or more from the threshold.
 *
 * image-q scans its first line from the right, ours from the left: it gets the mirror image.
 */
const COLUMNS = 64;
const ROWS = 64;
const BARE = 64;
const BURNED = 191;

function noise(): Uint8Array {
  const random = seededRandom(11);
  return Uint8Array.from({ length: COLUMNS * ROWS }, () => 85 + Math.floor(85 * random()));
}

/** The picture whose plain diffusion is that of `levels` with corrected values rounded, as burn fractions. */
function asRounded(levels: Uint8Array, kernel: DiffusionKernel, scan: Scan): Float32Array {
  const fractions = new Float32Array(COLUMNS * ROWS);
  const received = new Float64Array(COLUMNS * ROWS);
  for (let y = 0; y < ROWS; y++) {
    const step = scan === "serpentine" && y % 2 === 1 ? -1 : 1;
    for (let n = 0; n < COLUMNS; n++) {
      const x = step === 1 ? n : COLUMNS - 1 - n;
      const at = y * COLUMNS + x;
      const corrected = Math.round(levels[at] + received[at]);
      if (corrected < 0 || corrected > 255) throw new RangeError("this level would be clamped");
      fractions[at] = (corrected - received[at] - BARE) / (BURNED - BARE);
      const error = corrected - (corrected > (BARE + BURNED) / 2 ? BURNED : BARE);
      for (const [dx, dy, weight] of kernel.taps) {
        const toX = x + step * dx;
        if (toX < 0 || toX >= COLUMNS || y + dy >= ROWS) continue;
        received[(y + dy) * COLUMNS + toX] += error * (weight / kernel.divisor);
      }
    }
  }
  return fractions;
}

const mirrored = (values: Uint8Array) =>
  values.map((_value, i) => values[i - (i % COLUMNS) + COLUMNS - 1 - (i % COLUMNS)]);

function bitsByImageQ(levels: Uint8Array, stencil: number, scan: Scan): Uint8Array {
  const palette = new iq.utils.Palette();
  for (const grey of [BARE, BURNED]) palette.add(iq.utils.Point.createByRGBA(grey, grey, grey, 255));
  const rgba = Uint8Array.from({ length: 4 * levels.length }, (_, i) => (i % 4 === 3 ? 255 : levels[i >> 2]));
  const points = iq.utils.PointContainer.fromUint8Array(rgba, COLUMNS, ROWS);
  const distance = new iq.distance.Euclidean();
  const diffusion = new iq.image.ErrorDiffusionArray(distance, stencil, scan === "serpentine", 0, true);
  const result = diffusion.quantizeSync(points, palette).toUint8Array();
  return levels.map((_level, i) => (result[4 * i] === BURNED ? 1 : 0));
}

function bitsByUs(fractions: Float32Array, kernel: DiffusionKernel, scan: Scan): Uint8Array {
  const nextRow = diffuse(kernel, COLUMNS, scan, "drop", exact);
  const bits = new Uint8Array(COLUMNS * ROWS);
  for (let y = 0; y < ROWS; y++) {
    const from = y * COLUMNS;
    nextRow(fractions.subarray(from, from + COLUMNS), y, bits.subarray(from, from + COLUMNS));
  }
  return bits;
}

const { ErrorDiffusionArrayKernel: Stencil } = iq.image;

describe.each([
  ["Floyd–Steinberg", "floyd-steinberg", Stencil.FloydSteinberg],
  ["Jarvis–Judice–Ninke", "jarvis-judice-ninke", Stencil.Jarvis],
  ["Stucki", "stucki", Stencil.Stucki],
  ["Burkes", "burkes", Stencil.Burkes],
  ["Sierra, three rows", "sierra", Stencil.Sierra],
  ["Sierra, two rows", "sierra-two-row", Stencil.TwoSierra],
  ["Sierra lite", "sierra-lite", Stencil.SierraLite],
  ["Atkinson", "atkinson", Stencil.Atkinson],
] as const)("%s", (_title, id, theirStencil) => {
  const kernel = stencil(id);
  const levels = noise();

  it.each(["serpentine", "raster"] as const)("gives the bits of image-q, %s", (scan) => {
    const theirs =
      scan === "serpentine"
        ? mirrored(bitsByImageQ(mirrored(levels), theirStencil, scan))
        : bitsByImageQ(levels, theirStencil, scan);
    expect(bitsByUs(asRounded(levels, kernel, scan), kernel, scan)).toEqual(theirs);
    expect(new Set(theirs)).toEqual(new Set([0, 1]));
  });

  it("would not, with the weights of any two neighbouring taps exchanged", () => {
    const fractions = asRounded(levels, kernel, "serpentine");
    const bits = bitsByUs(fractions, kernel, "serpentine");
    for (let k = 1; k < kernel.taps.length; k++) {
      const [[dx, dy, weight], [dx1, dy1, weight1]] = [kernel.taps[k - 1], kernel.taps[k]];
      if (weight === weight1) continue;
      const taps = kernel.taps.with(k - 1, [dx, dy, weight1]).with(k, [dx1, dy1, weight]);
      expect(bitsByUs(fractions, { ...kernel, taps }, "serpentine")).not.toEqual(bits);
    }
  });
});
