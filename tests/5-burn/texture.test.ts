/*
 * Against theory: R. A. Ulichney, "Dithering with blue noise", Proc. IEEE 76(1), 56–79 (1988).
 */
import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { type Texture, tintTexture } from "../../src/5-burn/texture.js";
import { seededRandom } from "../../src/core/random.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { randomBits, square } from "./burning.js";

const SIDE = 256;

function texture(bits: Uint8Array, pitch = square(0.1)): Texture {
  const found = tintTexture(bits, SIDE, bits.length / SIDE, pitch);
  if (!found) throw new Error("no texture");
  return found;
}

/** A tint from row 64 on. Every method has settled there. */
function tint(method: string, fraction: number): Texture {
  const settings = halftoneSettings();
  const fractions = new Float32Array(SIDE * (SIDE + 64)).fill(fraction);
  const bits = halftoneBits(findHalftoneMethod(method), fractions, SIDE, SIDE + 64, settings);
  return texture(bits.slice(64 * SIDE));
}

describe.each([0.05, 0.25, 0.5, 0.9])("white noise of a share of %d", (share) => {
  const white = texture(randomBits(SIDE, SIDE, share, 7));

  it("reads 1 at all frequencies", () => {
    // Ring k of 64ths has about 16·πk independent frequencies of 256ths; four standard errors.
    white.spectrum.forEach((power, ring) => {
      if (ring === 0 || ring > 32) return;
      expect(Math.abs(power - 1), `ring ${ring}`).toBeLessThan(4 / Math.sqrt(16 * Math.PI * ring));
    });
    expect(Math.abs(white.lowFrequencyPower - 1)).toBeLessThan(0.15);
  });

  it("reads 0 dB of anisotropy", () => {
    expect(Math.abs(white.anisotropyDb)).toBeLessThan(0.3);
  });

  it("tells its share and its principal frequency", () => {
    expect(Math.abs(white.fraction - share)).toBeLessThan(0.01);
    expect(white.principalFrequency).toBeCloseTo(Math.sqrt(Math.min(white.fraction, 1 - white.fraction)), 12);
  });
});

describe.each([1 / 16, 1 / 8, 1 / 4, 3 / 4, 7 / 8, 15 / 16])("a void-and-cluster mask at %d", (share) => {
  const blue = tint("blue-noise", share);

  it("has its peak at the principal frequency", () => {
    const principal = Math.sqrt(Math.min(share, 1 - share));
    expect(blue.principalFrequency).toBeCloseTo(principal, 3);
    // Rings are an eighth of 1/8 apart.
    expect(Math.abs(blue.peakFrequency / principal - 1)).toBeLessThan(0.2);
    expect(Math.max(...blue.spectrum)).toBeGreaterThan(1.5);
  });

  it("has little power below it, and next to no direction", () => {
    expect(blue.lowFrequencyPower).toBeLessThan(0.1);
    expect(Math.abs(blue.anisotropyDb)).toBeLessThan(1.5);
  });
});

describe("a Bayer mask", () => {
  /*
   * One pixel in 16 on a square lattice 4 apart: the 15 frequencies of the lattice but 0 share all the power alike,
   * |F|²/N = N·g², over g(1 − g) = 15/256 that is N/15 = 273 each with N = 64².
   */
  it("at 1/16 shows its lattice", () => {
    const { spectrum, peakFrequency, principalFrequency, lowFrequencyPower } = tint("bayer-4", 1 / 16);
    expect([peakFrequency, principalFrequency]).toEqual([0.25, 0.25]);
    expect(lowFrequencyPower).toBeLessThan(1e-9);
    const lit = spectrum.flatMap((power, ring) => (power > 1e-6 ? [ring] : []));
    // (1, 0), (1, 1), (2, 0), (2, 1), (2, 2) quarters of a cycle per pixel, in 64ths.
    expect(lit).toEqual([16, Math.round(16 * Math.SQRT2), 32, Math.round(16 * Math.sqrt(5)), 45]);
    expect(Math.abs(spectrum[16] / ((4 * SIDE ** 2) / 15 / countRing(16)) - 1)).toBeLessThan(1e-5);
  });

  it("at 1/2 is a chequerboard: all power in the corner, where √½ says", () => {
    const { spectrum, peakFrequency, principalFrequency } = tint("bayer-2", 1 / 2);
    expect(spectrum.flatMap((power, ring) => (power > 1e-6 ? [ring] : []))).toEqual([45]);
    expect(Math.abs(peakFrequency / principalFrequency - 1)).toBeLessThan(0.01);
  });

  it("has direction", () => {
    expect(tint("bayer-4", 1 / 16).anisotropyDb).toBeGreaterThan(15);
  });
});

/** Frequencies of a 256 × 256 transform whose radius rounds to so many 64ths, counted one by one. */
function countRing(ring: number): number {
  let count = 0;
  for (let y = -127; y <= 128; y++) {
    for (let x = -127; x <= 128; x++) if (Math.round(Math.hypot(x, y) / 4) === ring) count++;
  }
  return count;
}

it("clumped dots have their peak below the principal frequency", () => {
  const green = tint("green-noise", 1 / 4);
  expect(green.peakFrequency / green.principalFrequency).toBeLessThan(0.75);
  const screen = tint("clustered-dot", 1 / 4);
  expect(screen.peakFrequency / screen.principalFrequency).toBeLessThan(0.75);
  expect(screen.anisotropyDb).toBeGreaterThan(10);
});

it("of oblong pixels counts in roots of their area: dots on a square lattice of mm", () => {
  // Pixels twice as long as wide, dots every 4 columns and every 8 rows: a square lattice, 1 in 32.
  const bits = Uint8Array.from({ length: SIDE * SIDE }, (_, i) =>
    (i % SIDE) % 4 === 0 && Math.floor(i / SIDE) % 8 === 0 ? 1 : 0,
  );
  const { peakFrequency, principalFrequency } = texture(bits, { alongMm: 0.2, acrossMm: 0.1 });
  expect(principalFrequency).toBeCloseTo(Math.sqrt(1 / 32), 12);
  const peakRatio = peakFrequency / principalFrequency;
  expect([1, Math.SQRT2, 2].some((ratio) => Math.abs(peakRatio / ratio - 1) < 0.05)).toBe(true);
});

it("with power levels is that of the step between the two levels used", () => {
  const random = seededRandom(2);
  const levels = Uint8Array.from({ length: SIDE * SIDE }, () => (random() < 0.2 ? 6 : 5));
  const white = texture(levels);
  expect(Math.abs(white.fraction - 0.2)).toBeLessThan(0.01);
  expect(Math.abs(white.spectrum[20] - 1)).toBeLessThan(0.15);
});

it("of pixels all alike there is none", () => {
  for (const bit of [0, 1]) {
    const flat = new Uint8Array(SIDE * SIDE).fill(bit);
    expect(tintTexture(flat, SIDE, SIDE, square(0.1))).toBeUndefined();
  }
});
