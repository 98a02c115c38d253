import { describe, expect, it } from "vitest";
import { boxBlur } from "../../src/2-tone/box-blur.js";
import { seededRandom } from "../../src/core/random.js";

const columns = 17;
const rows = 12;
const random = seededRandom(4);
const plane = Float32Array.from({ length: columns * rows }, () => random());

describe("box blur", () => {
  it.each([0, 1, 3, 20])("is the mean over a square of radius %d px, the edge value going on", (radius) => {
    const blurred = boxBlur(plane, columns, rows, radius);
    const near = (at: number, last: number) => Math.min(last, Math.max(0, at));
    blurred.forEach((value, i) => {
      const [x, y] = [i % columns, Math.floor(i / columns)];
      let sum = 0;
      for (let dy = -radius; dy <= radius; dy++) {
        for (let dx = -radius; dx <= radius; dx++) {
          sum += plane[near(y + dy, rows - 1) * columns + near(x + dx, columns - 1)];
        }
      }
      expect(value).toBeCloseTo(sum / (2 * radius + 1) ** 2, 6);
    });
  });

  it("leaves a constant and its source as they are", () => {
    const before = plane.slice();
    boxBlur(plane, columns, rows, 2);
    expect([...plane]).toEqual([...before]);
    const even = boxBlur(new Float32Array(columns * rows).fill(0.3), columns, rows, 5);
    for (const value of even) expect(value).toBeCloseTo(0.3, 6);
  });
});
