import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import type { Spot } from "../../src/core/spot.js";
import { meanOver } from "./burning.js";
import { directApertureMeans } from "./direct-apertures.js";
import { type ReferenceCase, simulateCases } from "./reference-cases.js";

export interface TintedPatches {
  /** Of each patch, as shares of 1. */
  readonly fractions: readonly number[];
  readonly halftone: HalftoneFunction;
  readonly points: ResponsePoints;
  readonly pitch: Pitch;
  readonly spot: Spot;
  readonly doseSpread: number;
  /** Factor on the samples of the simulation, which has five per spot. */
  readonly sampling: number;
}

const DETAIL_SIDES_MM = [0.15, 0.25, 0.5, 1];
/** Patches of 6 mm with a margin that no edge reaches through. */
const PATCH_MM = 6;
const MARGIN_PX = 24;

/** CIE 1976 lightness above the knee (CIE 15), written out again. */
const lightness = (y: number) => 116 * Math.cbrt(y) - 16;

function variance(values: readonly number[]): number {
  const mean = meanOver(values);
  return meanOver(values.map((value) => (value - mean) ** 2));
}

/**
 * Independent count of the tones of section 7: patches from the brute-force simulation, averaged in apertures pixel by pixel,
 * 1 + Σ |ΔL*| / √(1 + 4(σ² + variance over the doses)).
 */
export function directTones(given: TintedPatches) {
  const { fractions, halftone, points, pitch, spot, doseSpread, sampling } = given;
  const [inColumns, inRows] = [pitch.alongMm, pitch.acrossMm].map((pitchMm) => Math.ceil(PATCH_MM / pitchMm));
  const [columns, rows] = [inColumns + 2 * MARGIN_PX, inRows + 2 * MARGIN_PX];
  const doses = [1, 1 - doseSpread, 1 + doseSpread];
  const cases: ReferenceCase[] = fractions.flatMap((fraction) => {
    const codes = new Int16Array(columns * rows).fill(Math.round(fraction * FRACTION_ONE));
    const bits = unpackBitmap(halftone(codes, columns, rows));
    // The doses of the response are divided by the dose, which has the same effect as more dose.
    return doses.map((dose) => ({
      ...{ pitch, spot, sampling, columns, rows, bits },
      points: points.map(([at, luminance]) => [at / dose, luminance] as const),
    }));
  });
  const simulated = simulateCases(cases).map(({ luminance }) =>
    luminance.filter((_, i) => {
      const [x, y] = [i % columns, Math.floor(i / columns)];
      return Math.min(x, columns - 1 - x, y, rows - 1 - y) >= MARGIN_PX;
    }),
  );
  const patches = fractions.map((_, k) => {
    const planes = doses.map((_, d) => simulated[doses.length * k + d]);
    const atDoses = planes.map((plane) => lightness(meanOver(plane)));
    const variances = DETAIL_SIDES_MM.map((side) => {
      const [along, across] = [side / pitch.alongMm, side / pitch.acrossMm];
      return variance(directApertureMeans(planes[0], inColumns, inRows, along, across).map(lightness));
    });
    return { lightness: atDoses[0], wander: variance(atDoses), spreads: variances.map(Math.sqrt) };
  });
  const tones = (side: number, held: number) =>
    patches.slice(1).reduce((sum, patch, k) => {
      const before = patches[k];
      const spread = (patch.spreads[side] + before.spreads[side]) / 2;
      const noise = spread ** 2 + (held * (patch.wander + before.wander)) / 2;
      return sum + Math.abs(patch.lightness - before.lightness) / Math.sqrt(1 + 4 * noise);
    }, 1);
  return DETAIL_SIDES_MM.map((_, side) => ({ nominal: tones(side, 0), held: tones(side, 1) }));
}
