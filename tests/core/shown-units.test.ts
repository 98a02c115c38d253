import { expect, it } from "vitest";
import {
  accelerationWords,
  lengthWords,
  METRIC,
  sizeWords,
  speedLimitWords,
  speedWords,
} from "../../src/core/shown-units.js";

const inches = { ...METRIC, length: "in" } as const;
const speedIn = (speed: "in/s" | "mm/min" | "m/s") => ({ ...METRIC, speed });

// An inch is 25.4 mm: 4 in are 101.6 mm, and 67.74 mm are 2.66693 in.
it("a size is written in the unit in which it was given", () => {
  const size = { widthMm: 101.6, heightMm: 67.74 };
  expect(sizeWords(size, METRIC)).toBe("101.6 × 67.74 mm");
  expect(sizeWords(size, inches)).toBe("4 × 2.667 in");
});

it("a length has a tenth of a mm, below 1 mm one digit more, or a thousandth of an inch", () => {
  expect(lengthWords(80.04, METRIC)).toBe("80 mm");
  expect(lengthWords(0.256, METRIC)).toBe("0.26 mm");
  expect(lengthWords(53.347, METRIC, 2)).toBe("53.35 mm");
  expect(lengthWords(0.254, inches)).toBe("0.01 in");
});

it("a speed is written in its unit, and a limit is rounded down", () => {
  expect(speedWords(300, METRIC)).toBe("300 mm/s");
  expect(speedWords(101.6, speedIn("in/s"))).toBe("4 in/s");
  expect(speedWords(300, speedIn("in/s"))).toBe("11.8 in/s"); // 11.811
  expect(speedWords(100, speedIn("mm/min"))).toBe("6000 mm/min");
  expect(speedWords(250, speedIn("m/s"))).toBe("0.25 m/s");
  expect(speedLimitWords(157.9, METRIC)).toBe("157 mm/s");
  expect(speedLimitWords(101.5, speedIn("in/s"))).toBe("3.9 in/s"); // 3.996
  expect(speedLimitWords(99.99, speedIn("mm/min"))).toBe("5999 mm/min"); // 5999.4
  // A slow one is not zero, which no option takes.
  expect(speedLimitWords(0.0123456, METRIC)).toBe("0.0123 mm/s");
  expect(speedLimitWords(0.5, speedIn("m/s"))).toBe("0.0005 m/s");
  expect(speedLimitWords(0.456, METRIC)).toBe("0.45 mm/s");
  // 0.1 · 300 / 0.2 is a little below 150 in floating point.
  expect(speedLimitWords((0.1 * 300) / 0.2, METRIC)).toBe("150 mm/s");
});

it("an acceleration is written in its own unit", () => {
  expect(accelerationWords(5000, METRIC)).toBe("5000 mm/s²");
  expect(accelerationWords(2540, { ...METRIC, acceleration: "in/s²" })).toBe("100 in/s²");
});
