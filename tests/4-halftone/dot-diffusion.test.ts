import { expect, it } from "vitest";
import {
  type ClassMatrix,
  knuthClasses,
  meseVaidyanathanClasses,
} from "../../src/4-halftone/class-matrices.js";
import { diffuseDots } from "../../src/4-halftone/dot-diffusion.js";
import { seededRandom } from "../../src/core/random.js";
import { publishedTable } from "../support/halftone-tables.js";

/* Not a whole number of tiles either way. */
const COLUMNS = 75;
const ROWS = 53;

/** Knuth's rule pixel by pixel: all pixels of the picture in the order of their class, one after the other. */
function naive(fractions: Float32Array, classes: ClassMatrix): Uint8Array {
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
    bits[at] = values[at] < 0.5 ? 0 : 1;
    const error = values[at] - bits[at];
    const later: { x: number; y: number; weight: number }[] = [];
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        if (classAt(x + dx, y + dy) > classAt(x, y)) {
          later.push({ x: x + dx, y: y + dy, weight: weights[1 + dy][1 + dx] });
        }
      }
    }
    const sum = later.reduce((total, { weight }) => total + weight, 0);
    for (const to of later) {
      if (to.x < 0 || to.x >= COLUMNS || to.y < 0 || to.y >= ROWS) continue;
      values[to.y * COLUMNS + to.x] += (error * to.weight) / sum;
    }
  }
  return bits;
}

it.each([
  ["Knuth", knuthClasses],
  ["Mese and Vaidyanathan", meseVaidyanathanClasses],
] as const)("by the classes of %s gives the bits of the rule pixel by pixel", (_name, classes) => {
  const random = seededRandom(6);
  const fractions = Float32Array.from({ length: COLUMNS * ROWS }, () => random());
  const bits = new Uint8Array(COLUMNS * ROWS);
  diffuseDots(classes)(fractions, COLUMNS, ROWS, bits);
  expect(bits).toEqual(naive(fractions, classes));
});
