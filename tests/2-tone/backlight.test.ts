import { describe, expect, it } from "vitest";
import { automaticLift } from "../../src/2-tone/backlight.js";

/** Surroundings of these L*, each with a share of the picture in hundredths. */
const liftOf = (...parts: readonly (readonly [lightness: number, share: number])[]): number => {
  const base = Float32Array.from(
    parts.flatMap(([lightness, share]) => new Array<number>(share).fill(lightness)),
  );
  return automaticLift(base, new Float32Array(base.length).fill(1));
};

/** 0.8 · (sign − 0.1) / 0.9, with the signs worked out by hand from the shares that the file states. */
const strength = (sign: number): number => (0.8 * (sign - 0.1)) / 0.9;

describe("the strength that a picture seems to need", () => {
  it("is 0.8 for dark before light, and 0 for each alone", () => {
    expect(liftOf([20, 50], [90, 50])).toBeCloseTo(0.8, 6);
    for (const lightness of [3, 20, 50, 90]) expect(liftOf([lightness, 100])).toBe(0);
  });

  it("grows with the dark and the light share, and falls with that in the middle", () => {
    expect(liftOf([20, 20], [90, 80])).toBeCloseTo(strength(8 / 23), 6);
    expect(liftOf([20, 12], [90, 88])).toBe(0);
    expect(liftOf([20, 70], [90, 30])).toBeCloseTo(strength(0.5), 6);
    expect(liftOf([20, 80], [90, 20])).toBe(0);
    expect(liftOf([20, 38], [50, 22], [90, 40])).toBeCloseTo(strength(8 / 15), 6);
    expect(liftOf([20, 30], [50, 30], [90, 40])).toBe(0);
  });

  it("does not take black for dark, and only half of what is between", () => {
    expect(liftOf([5, 50], [90, 50])).toBe(0);
    // Half of 50 of 100 is dark: 13 of the 23 hundredths from 12 to 35.
    expect(liftOf([9.5, 50], [90, 50])).toBeCloseTo(strength(13 / 23), 6);
    // L* 65 is half light and half middle: 45 hundredths are light and 15 in the middle, where the lift is still whole.
    expect(liftOf([20, 40], [65, 30], [90, 30])).toBeCloseTo(strength(1), 6);
  });

  it("counts points by their weights", () => {
    const base = Float32Array.of(20, 90, 50);
    expect(automaticLift(base, Float32Array.of(1, 1, 0))).toBeCloseTo(0.8, 6);
    expect(automaticLift(base, Float32Array.of(1, 1, 2))).toBe(0);
    expect(automaticLift(base, new Float32Array(3))).toBe(0);
  });
});
