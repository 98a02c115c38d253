import { describe, expect, it } from "vitest";
import { graininess } from "../../src/5-burn/graininess.js";
import { visualErrors } from "../../src/5-burn/visual-error.js";
import { seededRandom } from "../../src/core/random.js";

const [columns, rows] = [256, 512];
const pitch = { alongMm: 0.06, acrossMm: 0.03 };

/** Independent normal deviates (G. E. P. Box and M. E. Muller, 1958). */
function gaussianField(mean: number, deviation: number): Float64Array {
  const random = seededRandom(5);
  return Float64Array.from({ length: columns * rows }, () => {
    const radius = Math.sqrt(-2 * Math.log(1 - random()));
    return mean + deviation * radius * Math.cos(2 * Math.PI * random());
  });
}

/** dL*⁄dY of 116·∛Y − 16 (CIE 15), Y above 0.008856. */
const slope = (luminance: number): number => 116 / 3 / luminance ** (2 / 3);

/**
 * White noise of deviation s in pixels of area a has s²·a at every frequency; with the eye e^(−f/κ) in cycles per mm, the integral of
 * its square over the plane is πκ²/2. κ by Näsänen (1984), 5.1189 cycles per degree at 10 cd/m²; one degree spans 2·D·tan ½°.
 */
function expected(mean: number, deviation: number, distanceMm: number): number {
  const kappa = (0.525 * Math.log(10) + 3.91) / (2 * distanceMm * Math.tan(Math.PI / 360));
  return slope(mean) * deviation * Math.sqrt((pitch.alongMm * pitch.acrossMm * Math.PI) / 2) * kappa;
}

describe("white Gaussian noise of known variance", () => {
  it.each([
    [0.3, 0.05, 300],
    [0.3, 0.1, 300],
    [0.6, 0.05, 300],
    [0.15, 0.02, 600],
  ])("about %d, deviation %d, from %d mm, has the graininess it should", (mean, deviation, distanceMm) => {
    const viewing = { distanceMm, luminanceCdPerM2: 10 };
    const found = graininess(gaussianField(mean, deviation), columns, rows, pitch, viewing);
    // Two standard errors. The filter passes the equivalent of 2πκ² frequencies per mm², in pairs: 1416 of 256 mm² at 300 mm, 354 at 600.
    const standardError = Math.sqrt(2 / 1416) * (distanceMm / 300) * 0.5;
    expect(Math.abs(found / expected(mean, deviation, distanceMm) - 1)).toBeLessThan(2 * standardError);
  });
});

it("a sine has its own amplitude over √2, left by the eye", () => {
  // 12 cycles along 15.36 mm and none across: 0.78125 per mm, at 300 mm 4.0907 per degree.
  const wave = Float64Array.from(
    { length: columns * rows },
    (_, i) => 0.4 + 0.02 * Math.sin((2 * Math.PI * 12 * (i % columns)) / columns),
  );
  const found = graininess(wave, columns, rows, pitch, { distanceMm: 300, luminanceCdPerM2: 10 });
  const left = Math.exp(-((12 / 15.36) * 2 * 300 * Math.tan(Math.PI / 360)) / (0.525 * Math.log(10) + 3.91));
  expect(Math.abs(found / ((slope(0.4) * 0.02 * left) / Math.SQRT2) - 1)).toBeLessThan(1e-4);
});

it("is the visual error about the mean, where that is small", () => {
  const noise = Float32Array.from(gaussianField(0.4, 0.05));
  const flat = new Float32Array(noise.length).fill(noise.reduce((sum, one) => sum + one, 0) / noise.length);
  const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
  const [{ rms, bias }] = visualErrors([noise], flat, columns, { pitch, viewing });
  const found = graininess(noise, columns, rows, pitch, viewing);
  expect(Math.abs(found / Math.sqrt(rms ** 2 - bias ** 2) - 1)).toBeLessThan(0.05);
});

it("a flat tint has none", () => {
  const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
  const flat = new Float32Array(64 * 64).fill(0.25);
  expect(graininess(flat, 64, 64, pitch, viewing)).toBe(0);
});
