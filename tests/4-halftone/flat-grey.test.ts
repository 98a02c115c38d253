import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import type { HalftoneMethod, Scan } from "../../src/4-halftone/method.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

/** 33 burn fractions, 0 to 1. */
const FRACTIONS = Array.from({ length: 33 }, (_, k) => k / 32);

function burned(method: HalftoneMethod, fraction: number, side: number, scan: Scan = "serpentine"): number {
  const plane = new Float32Array(side * side).fill(fraction);
  const bits = halftoneBits(method, plane, side, side, halftoneSettings({ scan }));
  let sum = 0;
  for (let i = 0; i < bits.length; i++) sum += bits[i];
  return sum;
}

const isOrdered = ({ family }: HalftoneMethod) =>
  family === "ordered dither" || family === "blue noise" || family === "clustered dot";
const keepMean = halftoneMethods.filter((method) => method.keepsMean && !method.asksForArea);
const diffusions = keepMean.filter((method) => !isOrdered(method));
const ordered = keepMean.filter(isOrdered);

/*
 * Edges and all: error is kept at the sides, and the lead-in leaves as much error above the first row as the last row leaves
 * below it.
 */
describe.each(diffusions.map((method) => [method.id, method] as const))(
  "a flat grey by %s",
  (_id, method) => {
    const side = 160;

    it.each(["serpentine", "raster"] as const)("burns the fraction asked for, %s", (scan) => {
      for (const fraction of FRACTIONS) {
        expect(Math.abs(burned(method, fraction, side, scan) / side ** 2 - fraction)).toBeLessThan(1e-3);
      }
    });
  },
);

/*
 * Ordered methods have one tone per rank, so a tint is off by no more than half a tone. 384 is a whole number of tiles
 * for each of them: 128, 16 and less, and 32 for the screen.
 */
describe.each(ordered.map((method) => [method.id, method] as const))("a flat grey by %s", (id, method) => {
  const tones =
    { "blue-noise": 128 ** 2, "clustered-dot": 32 * 32 }[id] ?? Number(id.replace("bayer-", "")) ** 2;

  it("burns the nearest of its tones", () => {
    for (const fraction of FRACTIONS) {
      const mean = burned(method, fraction, 384) / 384 ** 2;
      expect(Math.abs(mean - fraction)).toBeLessThanOrEqual(0.5 / tones + 1e-12);
      expect(mean * tones).toBeCloseTo(Math.round(mean * tones), 9);
    }
  });
});

describe("methods that do not claim to keep the mean", () => {
  const meanOf = (id: string, fraction: number) => burned(findHalftoneMethod(id), fraction, 256) / 256 ** 2;

  /** Mean of a patch, 16 pixels of border left out. */
  function meanInside(id: string, fraction: number): number {
    const side = 160;
    const plane = new Float32Array(side * side).fill(fraction);
    const bits = halftoneBits(findHalftoneMethod(id), plane, side, side, halftoneSettings());
    let sum = 0;
    for (let y = 16; y < side - 16; y++) for (let x = 16; x < side - 16; x++) sum += bits[y * side + x];
    return sum / (side - 32) ** 2;
  }

  it("Atkinson loses light tints and fills dark ones", () => {
    // Three quarters of the error go on: a tint of g adds up to 4g, which reaches 1/2 from 1/8 on.
    expect(meanInside("atkinson", 0.124)).toBe(0);
    expect(meanInside("atkinson", 0.876)).toBe(1);
    expect(meanOf("atkinson", 1 / 4)).toBeLessThan(0.22);
  });

  it("a plain threshold has two tones", () => {
    expect(meanOf("threshold", 0.49)).toBe(0);
    expect(meanOf("threshold", 0.51)).toBe(1);
  });

  it("Knuth's dot diffusion drops the error of the two last pixels of a tile, so tints are rounded to 32nds", () => {
    for (const fraction of FRACTIONS.slice(0, -1)) {
      expect(meanInside("dot-diffusion", fraction + 0.01)).toBeCloseTo(fraction, 3);
      expect(meanInside("dot-diffusion", fraction + 0.02)).toBeCloseTo(fraction + 1 / 32, 3);
    }
  });

  it("dot diffusion by the larger matrix has one last pixel in 256 and comes within 1/400", () => {
    for (const fraction of FRACTIONS.slice(0, -1)) {
      const wanted = fraction + 0.01;
      expect(Math.abs(meanInside("dot-diffusion-16", wanted) - wanted)).toBeLessThan(1 / 400);
    }
  });

  it("are just these", () => {
    const others = halftoneMethods.filter((method) => !method.keepsMean).map((method) => method.id);
    expect(others.sort()).toEqual(["atkinson", "dot-diffusion", "dot-diffusion-16", "threshold"]);
  });
});
