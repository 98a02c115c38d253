import { expect } from "vitest";
import type { SourceWindow } from "../../src/3-resample/source-window.js";
import { type Plane, plane } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";

export type Luminance = Plane<"luminance">;

export function noise(rows: number, columns: number, seed: number): Luminance {
  const random = seededRandom(seed);
  return plane("luminance", Float32Array.from({ length: rows * columns }, random), rows, columns);
}

export function painted(rows: number, columns: number, value: (x: number, y: number) => number): Luminance {
  const pixels = Array.from({ length: rows * columns }, (_, i) =>
    value(i % columns, Math.floor(i / columns)),
  );
  return plane("luminance", Float32Array.from(pixels), rows, columns);
}

export const whole = (columns: number, rows: number): SourceWindow => ({
  left: 0,
  top: 0,
  width: columns,
  height: rows,
});

/** Farthest distance between two lists of numbers. */
export function farthest(a: ArrayLike<number>, b: ArrayLike<number>): number {
  expect(a.length).toBe(b.length);
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
}
