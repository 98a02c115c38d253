import { expect, it } from "vitest";
import { switchingOf } from "../../src/5-burn/switching.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { randomBits } from "./burning.js";

const bitmap = (lines: readonly string[], levels = 2) =>
  packBitmap(
    Uint8Array.from(lines.join(""), (pixel) => Number(pixel)),
    lines[0].length,
    lines.length,
    levels,
  );

// Counted by hand.
it.each<[string, readonly string[], number, number, number]>([
  ["one line, bursts of 2, 1 and 3 at its ends and within", ["11001000111"], 6, 1, 2],
  ["blank lines do not count", ["0000000000", "0111000110", "0000000000"], 4, 2, 2.5],
  ["a solid line is one burst", ["111111111111111111", "100000000000000000"], 2, 1, 9.5],
  ["nothing burns", ["00000"], 0, 0, 0],
])("%s", (_, lines, transitionsPerLine, shortestBurstPx, meanBurstPx) => {
  expect(switchingOf(bitmap(lines))).toEqual({ transitionsPerLine, shortestBurstPx, meanBurstPx });
});

it("takes any power above 0 for on", () => {
  const expected = { transitionsPerLine: 4, shortestBurstPx: 2, meanBurstPx: 2.5 };
  expect(switchingOf(bitmap(["0123002100"], 4))).toEqual({ ...expected });
});

/* Chance: a share g of random pixels begins a burst at g(1 − g) of them, and a burst is 1/(1 − g) long in the mean. */
it("of random pixels is what chance makes of it", () => {
  const [columns, rows, share] = [1000, 200, 0.3];
  const { transitionsPerLine, meanBurstPx, shortestBurstPx } = switchingOf(
    packBitmap(randomBits(columns, rows, share), columns, rows),
  );
  expect(Math.abs(transitionsPerLine / (2 * columns * share * (1 - share)) - 1)).toBeLessThan(0.01);
  expect(Math.abs(meanBurstPx * (1 - share) - 1)).toBeLessThan(0.01);
  expect(shortestBurstPx).toBe(1);
});
