import { describe, expect, it } from "vitest";
import { type ArtworkField, placeEdges } from "../../src/4-artwork/place-edges.js";
import type { EdgePlacement } from "../../src/core/edge-placement.js";
import { integrate } from "../support/integrate.js";

const SIDE = 70;
const PITCH_MM = 0.05;
const BLUR_MM = 0.035;

/** Φ(z) by Simpson's rule. */
const phi = (z: number): number =>
  z > 6 ? 1 : z < -6 ? 0 : 0.5 + integrate((t) => Math.exp(-0.5 * t * t), 0, z, 60) / Math.sqrt(2 * Math.PI);

/** A drawing by how much of a point's surroundings it covers, in mm from the middle of the grid. */
function fieldOf(
  covered: (xMm: number, yMm: number) => number,
  more: Partial<ArtworkField> = {},
): ArtworkField {
  const row = new Float32Array(SIDE);
  return {
    columns: SIDE,
    rows: SIDE,
    pitch: { alongMm: PITCH_MM, acrossMm: PITCH_MM },
    blurAlongMm: BLUR_MM,
    blurAcrossMm: BLUR_MM,
    lineOffsetMm: [0, 0],
    coverage: (y) => {
      for (let x = 0; x < SIDE; x++) {
        row[x] = covered((x + 0.5 - SIDE / 2) * PITCH_MM, (y + 0.5 - SIDE / 2) * PITCH_MM);
      }
      return row;
    },
    ...more,
  };
}

/** Marks as large as the pixels that burn, moved inwards by a growth: levels in equal steps of a pixel. */
function growing(growthMm: number): EdgePlacement {
  const levels = Array.from({ length: 7 }, (_, k) => ((k + 0.5) / 7 - 0.5) * PITCH_MM);
  return {
    meanMm: Array.from({ length: 5 }, () => growthMm),
    alongMm: levels,
    acrossMm: levels,
    lateMm: 0,
    minRunPx: { along: 1, across: 1 },
    thinnestMarkMm: { along: 0.06, across: 0.06 },
    closingGapMm: { along: 0.04, across: 0.04 },
    toleranceMm: { along: PITCH_MM / 14, across: PITCH_MM / 14 },
  };
}

function burn(field: ArtworkField, placement: EdgePlacement) {
  const placed = placeEdges(field, placement);
  const row = new Int16Array(SIDE);
  const bits = new Uint8Array(SIDE * SIDE);
  for (let y = 0; y < SIDE; y++) {
    placed.fractions(y, row);
    for (let x = 0; x < SIDE; x++) bits[y * SIDE + x] = row[x] > 0 ? 1 : 0;
  }
  return { bits, strokes: placed.thinStrokes(), gaps: placed.closingGaps() };
}

const areaMm2 = (bits: Uint8Array): number => bits.reduce((sum, bit) => sum + bit, 0) * PITCH_MM ** 2;
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** A band through the middle, blurred exactly: Φ((d + w/2)/s) − Φ((d − w/2)/s). */
const band =
  (degrees: number, widthMm: number, offMm = 0, blurMm = BLUR_MM) =>
  (xMm: number, yMm: number): number => {
    const d = xMm * Math.sin(radians(degrees)) + yMm * Math.cos(radians(degrees)) - offMm;
    return phi((d + widthMm / 2) / blurMm) - phi((d - widthMm / 2) / blurMm);
  };

/** Length of a band's middle line within the square. */
const lengthMm = (degrees: number): number =>
  (SIDE * PITCH_MM) / Math.max(Math.abs(Math.cos(radians(degrees))), Math.abs(Math.sin(radians(degrees))));

describe("burned area of a straight band", () => {
  // Geometry: drawn width minus twice the growth, times the length; a seventh of a pixel at each of two edges.
  it.each([0, 90, 7, 20, 26.565, 30, 45, 63.435, 80])("at %d° is the drawn one moved inwards", (degrees) => {
    for (const [widthMm, growthMm, offMm] of [
      [1, 0.02, 0.003],
      [0.52, 0.012, 0.021],
      [0.23, 0, -0.017],
      [0.71, -0.01, 0.03],
    ]) {
      const { bits } = burn(fieldOf(band(degrees, widthMm, offMm)), growing(growthMm));
      const movedMm = widthMm - 2 * growthMm;
      // A diagonal band loses two corners.
      const cutMm2 = degrees === 45 ? movedMm ** 2 / 2 : 0;
      const burnedMm = (areaMm2(bits) + cutMm2) / lengthMm(degrees);
      expect(Math.abs(burnedMm - movedMm), `${widthMm} mm`).toBeLessThan(PITCH_MM / 7);
    }
  });

  it("moves by growths of its own along and across", () => {
    const placement = { ...growing(0), meanMm: [0.03, 0.0225, 0.015, 0.0075, 0] };
    const upright = burn(fieldOf(band(90, 1)), placement);
    const lying = burn(fieldOf(band(0, 1)), placement);
    expect(areaMm2(upright.bits) / lengthMm(90)).toBeCloseTo(0.94, 2);
    expect(areaMm2(lying.bits) / lengthMm(0)).toBeCloseTo(1, 2);
  });
});

describe("lines whose marks lie off", () => {
  it("burn as much before: the middle of each line's run", () => {
    const lineOffsetMm = [0.083, -0.031] as const;
    const { bits } = burn(fieldOf(band(90, 0.8), { lineOffsetMm }), growing(0.01));
    const middles = [0, 1].map((odd) => {
      let sum = 0;
      let count = 0;
      for (let y = odd; y < SIDE; y += 2) {
        for (let x = 0; x < SIDE; x++) {
          if (bits[y * SIDE + x] === 0) continue;
          sum += (x + 0.5 - SIDE / 2) * PITCH_MM;
          count++;
        }
      }
      return sum / count;
    });
    expect(Math.abs(middles[0] + 0.083)).toBeLessThan(PITCH_MM / 10);
    expect(Math.abs(middles[1] - 0.031)).toBeLessThan(PITCH_MM / 10);
  });
});

describe("hairlines", () => {
  it.each([0, 90, 13, 31, 45, 58, 77])("at %d° stay whole, one pixel thin, and are told", (degrees) => {
    const widthMm = 0.015;
    const { bits, strokes } = burn(fieldOf(band(degrees, widthMm, 0.011)), growing(0.02));
    // Every line that the stroke crosses has a pixel; a steep one exactly one.
    const upright = degrees > 45;
    for (let i = 4; i < SIDE - 4; i++) {
      let count = 0;
      for (let j = 0; j < SIDE; j++) count += bits[upright ? i * SIDE + j : j * SIDE + i];
      expect(count, `line ${i}`).toBe(1);
    }
    expect(Math.abs(strokes.lengthMm / lengthMm(degrees) - 1)).toBeLessThan(0.06);
    expect(Math.abs(strokes.thinnestMm - widthMm)).toBeLessThan(0.003);
  });

  it("are kept as many pixels thin as it takes to leave a mark", () => {
    for (const px of [2, 3]) {
      const placement = { ...growing(0.02), minRunPx: { along: px, across: px } };
      // The blur grows with the run, so that its outer pixels are seen.
      const blurMm = 0.4 * px * PITCH_MM;
      const blur = { blurAlongMm: blurMm, blurAcrossMm: blurMm };
      const { bits } = burn(fieldOf(band(90, 0.05, 0.013, blurMm), blur), placement);
      for (let y = 4; y < SIDE - 4; y++) {
        const row = bits.subarray(y * SIDE, (y + 1) * SIDE);
        expect(row.reduce((sum, bit) => sum + bit, 0)).toBe(px);
      }
    }
  });

  it("are not seen at corners, in grain, or between two shapes", () => {
    const edge = (d: number) => phi(d / BLUR_MM);
    const turned = (xMm: number, yMm: number, degrees: number) => [
      xMm * Math.cos(radians(degrees)) + yMm * Math.sin(radians(degrees)),
      yMm * Math.cos(radians(degrees)) - xMm * Math.sin(radians(degrees)),
    ];
    for (const degrees of [0, 15, 30, 45]) {
      const square = fieldOf((xMm, yMm) => {
        const [u, v] = turned(xMm, yMm, degrees);
        return edge(0.6 - Math.abs(u)) * edge(0.6 - Math.abs(v));
      });
      const { bits, strokes } = burn(square, growing(0));
      expect(strokes.lengthMm).toBeLessThan(0.15);
      expect(Math.abs(areaMm2(bits) - 1.44)).toBeLessThan(0.03);
    }
    const grain = fieldOf((xMm, yMm) => 0.1 + 0.02 * Math.sin(25 * xMm) * Math.sin(23 * yMm));
    expect(areaMm2(burn(grain, growing(0)).bits)).toBe(0);
  });
});

describe("gaps", () => {
  const gapped = (gapMm: number, degrees: number) =>
    fieldOf((xMm, yMm) => 1 - band(degrees, gapMm)(xMm, yMm));

  it.each([0, 90, 30, 45])("at %d° are told where they close", (degrees) => {
    const { gaps } = burn(gapped(0.03, degrees), growing(0.01));
    expect(Math.abs(gaps.lengthMm / lengthMm(degrees) - 1)).toBeLessThan(0.06);
    expect(Math.abs(gaps.thinnestMm - 0.03)).toBeLessThan(0.004);
  });

  it("are not where they stay open", () => {
    expect(burn(gapped(0.06, 30), growing(0.01)).gaps.lengthMm).toBe(0);
  });
});
