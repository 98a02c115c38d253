import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../../src/4-halftone/halftone.js";
import { burnFlatPatch } from "../../../src/5-burn/flat-patch.js";
import { lightnessFromLuminance } from "../../../src/core/physics/lightness.js";
import { seededRandom } from "../../../src/core/random.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { measureCurve, TRIAL_CURVE } from "../../../src/pipeline/burn/burn-curve.js";
import { createJob, halftoneFunction } from "../../../src/pipeline/job.js";

const BRUTE = { columns: 640, rows: 608, marginPx: 37 } as const;

/**
 * Mean of a large patch that is cut anywhere, by weights that fall to 0 at its edges: a raised cosine. What a pattern leaves at the
 * edges is then under a thousandth of its contrast, and it knows nothing of repeats.
 */
function smoothMean(plane: Float32Array): number {
  const weight = (k: number, count: number): number => 1 - Math.cos((2 * Math.PI * (k + 0.5)) / count);
  let sum = 0;
  for (let y = 0; y < BRUTE.rows; y++) {
    for (let x = 0; x < BRUTE.columns; x++) {
      sum += plane[y * BRUTE.columns + x] * weight(x, BRUTE.columns) * weight(y, BRUTE.rows);
    }
  }
  return sum / (BRUTE.columns * BRUTE.rows);
}

/** Largest difference in L* between a curve and large tints, by brute force. */
function worstBias(asked: PrepareOptions, effort?: typeof TRIAL_CURVE): number {
  const job = createJob(resolveOptions({ widthMm: 40, kind: "photo", ...asked }));
  const method = findHalftoneMethod(job.options.method);
  const { fractions, luminance } = measureCurve(job, method, effort);
  const { plan, response } = job.model;
  const halftone = halftoneFunction(method, job);
  const biases = [0.15, 0.35, 0.55, 0.8].map((share) => {
    const k = Math.floor(share * fractions.length);
    const [tint] = burnFlatPatch({ plan, response }, halftone, fractions[k], BRUTE, [1]).planes;
    return Math.abs(lightnessFromLuminance(luminance[k]) - lightnessFromLuminance(smoothMean(tint)));
  });
  return Math.max(...biases);
}

/** What the weights leave, and roundings. Patches of 80 × 80 pixels were off by up to 0.44. */
const MAX_BIAS = 0.003;
const screen = { method: "clustered-dot", spotMm: 0.115 } as const;

describe("the tone curve of a pattern is that of a large tint", () => {
  it.each([
    ["maple", 1025],
    ["leatherette", 825],
    ["leatherette", 800],
    ["leatherette", 1075],
  ] as const)("clustered dots on %s at %i lines per inch", (material, linesPerInch) => {
    const asked = { ...screen, material, linesPerInch };
    expect(worstBias(asked)).toBeLessThan(MAX_BIAS);
    expect(worstBias(asked, TRIAL_CURVE)).toBeLessThan(MAX_BIAS);
  });

  it("clustered dots of six random jobs", () => {
    const random = seededRandom(14);
    for (let trial = 0; trial < 6; trial++) {
      const asked: PrepareOptions = {
        ...screen,
        material: trial % 2 === 0 ? "maple" : "coated-steel",
        linesPerInch: 250 + 800 * random(),
        linesPerInchAlong: 250 + 800 * random(),
        screenLinesPerInch: 60 + 60 * random(),
        screenAngleDeg: 180 * random() - 90,
      };
      expect(worstBias(asked), JSON.stringify(asked)).toBeLessThan(MAX_BIAS);
    }
  });

  it.each(["bayer-2", "bayer-8", "bayer-16", "blue-noise"])("%s", (method) => {
    const job = { method, spotMm: 0.115, linesPerInch: 508, material: "leatherette" };
    expect(worstBias(job)).toBeLessThan(MAX_BIAS);
  });

  it("with a spot so small that few pixels can be afforded", () => {
    expect(worstBias({ ...screen, spotMm: 0.05, linesPerInch: 160, screenLinesPerInch: 40 })).toBeLessThan(
      MAX_BIAS,
    );
  });

  it("if even and odd lines differ and the pattern has an odd number of lines", () => {
    // Steps of (3, 2) pixels: 13 lines.
    const asked = { ...screen, linesPerInch: 508, lineShiftMm: 0.04, screenAngleDeg: 33.69 };
    const screenLinesPerInch = 508 / Math.sqrt(13);
    expect(worstBias({ ...asked, screenLinesPerInch, material: "leatherette" })).toBeLessThan(MAX_BIAS);
  });

  it("with power levels", () => {
    expect(worstBias({ ...screen, levels: 4, linesPerInch: 825, material: "leatherette" })).toBeLessThan(
      MAX_BIAS,
    );
  });
});
