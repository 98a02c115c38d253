import { expect, it } from "vitest";
import { doubtedResponse } from "../../../src/pipeline/calibration/doubted-response.js";

const at = (luminance: number) => ({ dose: 0.5, luminance, low: 0.9 * luminance, high: 1.1 * luminance });

/** By hand, from the curve of sRGB (IEC 61966-2-1, 1999) and light = code^2.2: what a plain power would make of the same codes. */
it.each([
  ["dark", 0.05, 0.6, 0.9 * 0.05 * 0.91646, 1.1 * 0.05],
  ["middling", 0.3, 0.6, 0.9 * 0.3, 1.1 * 0.3 * 1.0064],
  ["bare", 0.6, 0.6, 0.9 * 0.6, 1.1 * 0.6],
])(
  "a %s luminance from a picture that is read as sRGB may be a plain power's",
  (_, luminance, light, low, high) => {
    const [point] = doubtedResponse([at(luminance)], 0.6, light);
    expect(point).toMatchObject({ dose: 0.5, luminance });
    expect(point.low).toBeCloseTo(low, 5);
    expect(point.high).toBeCloseTo(high, 5);
  },
);

it("leaves a luminance of nothing alone", () => {
  expect(doubtedResponse([at(0)], 0.6, 0.6)).toEqual([at(0)]);
});
