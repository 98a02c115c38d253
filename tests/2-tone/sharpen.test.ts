import { describe, expect, it } from "vitest";
import { sharpenedRows } from "../../src/2-tone/sharpen.js";
import { planeOfRows, rowsOfPlane } from "../../src/core/plane-rows.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

const pitch = { alongMm: 0.04, acrossMm: 0.05 };
const spot = { alongMm: 0.12, acrossMm: 0.15 };
const side = 120;

/** Modulation left by a Gaussian spot, exp(−π²d²f²/8) (Boreman 2001). */
const spotLeaves = (diameterMm: number, perMm: number) =>
  Math.exp(-((Math.PI * diameterMm * perMm) ** 2) / 8);

function sharpened(wave: (i: number) => number, amount: number): Float32Array {
  const plane = Float32Array.from({ length: side * side }, (_, i) => wave(i));
  const row = sharpenedRows(rowsOfPlane(plane, side), { columns: side, rows: side, pitch, spot }, amount);
  return planeOfRows(row, side, side);
}

/** Amplitude of the same wave in a plane, away from its edges. */
function amplitude(plane: Float32Array, wave: (i: number) => number): number {
  let [product, square] = [0, 0];
  plane.forEach((value, i) => {
    const [x, y] = [i % side, Math.floor(i / side)];
    if (Math.min(x, y, side - 1 - x, side - 1 - y) < 20) return;
    product += (value - 0.5) * wave(i);
    square += wave(i) ** 2;
  });
  return product / square;
}

describe("sharpening for the spot", () => {
  it.each([
    ["along", 40],
    ["along", 16],
    ["along", 8],
    ["across", 20],
    ["across", 8],
  ])("brings a wave %s with a period of %d px nearer to what was wanted", (direction, period) => {
    const wave = (i: number) => {
      const at = direction === "along" ? i % side : Math.floor(i / side);
      return Math.sin((2 * Math.PI * at) / period);
    };
    const [pitchMm, spotMm] = direction === "along" ? [0.04, 0.12] : [0.05, 0.15];
    const left = spotLeaves(spotMm, 1 / (period * pitchMm));
    for (const amount of [0.5, 1]) {
      const plane = sharpened((i) => 0.5 + 0.15 * wave(i), amount);
      const made = amplitude(plane, wave) / 0.15;
      // 1 + amount·(1 − M), in which sampling the Gaussian and cutting it at 4σ leave 0.3 %.
      expect(Math.abs(made - (1 + amount * (1 - left)))).toBeLessThan(0.003);
      expect(Math.abs(made * left - 1)).toBeLessThan(Math.abs(left - 1));
    }
    const once =
      amplitude(
        sharpened((i) => 0.5 + 0.15 * wave(i), 1),
        wave,
      ) / 0.15;
    // First order: the remaining loss is the square of the loss.
    expect(once * left).toBeCloseTo(1 - (1 - left) ** 2, 2);
  });

  it("leaves a constant alone, and everything alone at 0", () => {
    for (const value of sharpened(() => 0.3, 2)) expect(value).toBeCloseTo(0.3, 6);
    const wave = (i: number) => Math.fround(0.5 + 0.4 * Math.sin(i));
    sharpened(wave, 0).forEach((value, i) => {
      expect(value).toBe(wave(i));
    });
  });

  it("keeps within 0..1 at an edge", () => {
    const plane = sharpened((i) => (i % side < 60 ? 0 : 1), 2);
    expect(Math.min(...plane)).toBe(0);
    expect(Math.max(...plane)).toBe(1);
  });
});

it.skipIf(!hasReference())("blurs along and across by the spot's own two sides, as SciPy does", () => {
  const [columns, rows] = [70, 50];
  const [ownPitch, ownSpot] = [
    { alongMm: 0.04, acrossMm: 0.07 },
    { alongMm: 0.09, acrossMm: 0.14 },
  ];
  const random = seededRandom(8);
  const plane = Float32Array.from({ length: columns * rows }, () => 0.3 + 0.4 * random());
  // A quarter of the 1/e² diameter is one standard deviation (ISO 11146-1): 0.5625 and 0.5 pixels.
  const [blurred] = askReference<number[][]>("scipy_values.py", {
    ...{ task: "gaussian", columns, rows, pixels: [...plane], sigmas: [[0.09 / 4 / 0.04, 0.14 / 4 / 0.07]] },
  });
  const source = rowsOfPlane(plane, columns);
  const made = planeOfRows(
    sharpenedRows(source, { columns, rows, pitch: ownPitch, spot: ownSpot }, 0.8),
    columns,
    rows,
  );
  made.forEach((value, i) => {
    // SciPy cuts the Gaussian a pixel earlier, where a millionth is left.
    expect(Math.abs(value - (plane[i] + 0.8 * (plane[i] - blurred[i])))).toBeLessThan(3e-6);
  });
});
