import { expect, it } from "vitest";
import { doubtedResponse } from "../../../src/pipeline/calibration/doubted-response.js";

const at = (luminance: number) => ({ dose: 0.5, luminance, low: 0.9 * luminance, high: 1.1 * luminance });

/** The luminance factor 1.645 · 0.15 L* above this one (CIE 15, 1976 lightness). */
const lighter = (luminance: number): number => (luminance ** (1 / 3) + (1.645 * 0.15) / 116) ** 3;

/** By hand, from the curve of sRGB (IEC 61966-2-1, 1999) and light = code^2.2: what a plain power would make of the same codes. */
it.each([
  ["dark", 0.05, 0.91646, 1],
  ["middling", 0.3, 1, 1.0064],
  ["bare", 0.6, 1, 1],
])(
  "a %s luminance from a picture that is read as sRGB may be a plain power's",
  (_, luminance, below, above) => {
    const [point] = doubtedResponse([at(luminance)], { bare: 0.6, bareLight: 0.6 });
    const half = Math.hypot(0.1 * luminance, lighter(luminance) - luminance);
    expect(point).toMatchObject({ dose: 0.5, luminance });
    expect(point.low).toBeCloseTo((luminance - half) * below, 5);
    expect(point.high).toBeCloseTo((luminance + half) * above, 5);
  },
);

it("adds a fifth of the bend between its neighbours, in squares", () => {
  const [, straight] = doubtedResponse([at(0.5), at(0.4), at(0.3)]);
  const [, bent] = doubtedResponse([at(0.5), at(0.4), at(0.1)]);
  expect(straight.high - 0.4).toBeCloseTo(Math.hypot(0.04, lighter(0.4) - 0.4), 5);
  // 0.5 − 2 · 0.4 + 0.1 = −0.2.
  expect(bent.high - 0.4).toBeCloseTo(Math.hypot(straight.high - 0.4, 0.2 * 0.2), 5);
  expect(0.4 - bent.low).toBeCloseTo(bent.high - 0.4, 12);
});

it("finds nothing darker than nothing", () => {
  const [{ luminance, low }] = doubtedResponse([at(0)], { bare: 0.6, bareLight: 0.6 });
  expect([luminance, low]).toEqual([0, 0]);
});
