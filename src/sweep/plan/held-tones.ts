import type { PlanRow } from "../../6-report/plan.js";
import type { VaryingDose } from "../../6-report/words/variation-words.js";
import { lineAverageShare, localAverageShare } from "../../core/physics/variation.js";
import type { Spread } from "../../core/spread.js";
import type { PlanLens } from "../../options/plan-options.js";

type Tones = NonNullable<PlanRow["tonalResolution"]>[number];

/** Side of the detail at which densities are compared if the photo resolves it: fine features of a face, in mm. */
export const COMPARED_MM = 0.25;
const LARGEST_MM = 1;

/**
 * The part of the variation that leaves most of its variance in a detail, so that it takes most tones; none if the dose is steady.
 */
export function blurringPart(
  { common, local, localLengthMm, line }: Spread,
  { spot }: PlanLens,
  { pitchMm }: PlanRow,
  detailMm: number,
): VaryingDose | undefined {
  const left = {
    local: local ** 2 * localAverageShare(detailMm, detailMm, localLengthMm),
    line: line ** 2 * lineAverageShare(detailMm, pitchMm, spot.acrossMm),
  };
  if (local > 0 && left.local >= left.line) return { part: "local", deviation: local };
  if (line > 0) return { part: "line", deviation: line };
  return common > 0 ? { part: "common", deviation: common } : undefined;
}

/** Tones of a row in a detail of this side, with the row's own halftone. */
export function tonesAt({ tonalResolution = [] }: PlanRow, detailMm: number): Tones {
  const found = tonalResolution.find((tones) => tones.detailMm === detailMm);
  return found ?? { detailMm, addressable: 0, nominal: 0, held: 0 };
}

/**
 * Middle size of the details by which densities are compared: fine features of a face, or the spot or the photo's own pixel if that
 * is larger. No more than 1 mm, the largest that is measured.
 */
export function comparedDetailMm(row: PlanRow): number {
  return Math.min(LARGEST_MM, Math.max(finestMm(row), pixelMm(row)));
}

const finestMm = ({ overdrive, pitchMm }: PlanRow): number => Math.max(COMPARED_MM, overdrive * pitchMm);
const pixelMm = ({ detail: { photoLpPerMm } }: PlanRow): number =>
  photoLpPerMm === undefined ? 0 : 1 / (2 * photoLpPerMm);

/** True if the photo is too coarse for the details that the spot can carry. */
export const photoIsCoarse = (row: PlanRow): boolean => pixelMm(row) > finestMm(row);
