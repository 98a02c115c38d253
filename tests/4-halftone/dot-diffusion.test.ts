import { expect, it } from "vitest";
import {
  type ClassMatrix,
  knuthClasses,
  meseVaidyanathanClasses,
} from "../../src/4-halftone/class-matrices.js";
import { startDotDiffusion } from "../../src/4-halftone/dot-diffusion.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { whole } from "../reference/arithmetic.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { publishedTable } from "../support/halftone-tables.js";

/* Not a whole number of tiles either way. */
const COLUMNS = 75;
const ROWS = 53;

/**
 * Knuth's rule pixel by pixel: all pixels of the picture in the order of their class, one after the other. Whole numbers;
 * the last of the later neighbours, row by row, takes what rounding leaves.
 */
function naive(fractions: Int16Array, classes: ClassMatrix): Uint8Array {
  const weights = publishedTable<{ neighbour_weights: ClassMatrix }>(
    "dot-diffusion/knuth-8x8",
  ).neighbour_weights;
  const side = classes.length;
  const classAt = (x: number, y: number) => classes[(y + side) % side][(x + side) % side];
  const order = Array.from({ length: COLUMNS * ROWS }, (_, at) => at).sort(
    (a, b) =>
      classAt(a % COLUMNS, Math.floor(a / COLUMNS)) - classAt(b % COLUMNS, Math.floor(b / COLUMNS)) || a - b,
  );
  const values = Float64Array.from(fractions);
  const bits = new Uint8Array(values.length);
  for (const at of order) {
    const x = at % COLUMNS;
    const y = Math.floor(at / COLUMNS);
    bits[at] = values[at] < whole.one / 2 ? 0 : 1;
    const error = values[at] - whole.one * bits[at];
    const later: { x: number; y: number; weight: number }[] = [];
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        if (classAt(x + dx, y + dy) > classAt(x, y)) {
          later.push({ x: x + dx, y: y + dy, weight: weights[1 + dy][1 + dx] });
        }
      }
    }
    const sum = later.reduce((total, { weight }) => total + weight, 0);
    const shares = later.map(({ weight }) => weight / sum);
    later.forEach((to, k) => {
      if (to.x < 0 || to.x >= COLUMNS || to.y < 0 || to.y >= ROWS) return;
      values[to.y * COLUMNS + to.x] += whole.split(error, shares, later.length - 1)[k];
    });
  }
  return bits;
}

it.each([
  ["Knuth", knuthClasses],
  ["Mese and Vaidyanathan", meseVaidyanathanClasses],
] as const)("by the classes of %s gives the bits of the rule pixel by pixel", (_name, classes) => {
  const random = seededRandom(6);
  const fractions = Int16Array.from({ length: COLUMNS * ROWS }, () => Math.floor(16385 * random()));
  const expected = naive(fractions, classes);
  for (const memory of [plainMemory, simdMemory]) {
    // All rows at once; the delayed ones come with those that are not there any more.
    const size = { columns: COLUMNS, rows: ROWS, bandRows: 2 * ROWS, memory };
    const band = startDotDiffusion(classes, size, halftoneSettings());
    band.fractions.set(fractions);
    band.run(0, 2 * ROWS);
    const stride = Math.ceil(COLUMNS / 8);
    const bytes = band.packed.slice(band.delayRows * stride, (band.delayRows + ROWS) * stride);
    expect(unpackBitmap({ columns: COLUMNS, rows: ROWS, levels: 2, stride, bytes })).toEqual(expected);
  }
});
