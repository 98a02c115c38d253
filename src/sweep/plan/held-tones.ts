import type { PlanRow } from "../../6-report/plan.js";

type Tones = NonNullable<PlanRow["tonalResolution"]>[number];

/** Side of the detail at which densities are compared if the photo resolves it: fine features of a face, in mm. */
const COMPARED_MM = 0.25;

/** Tones of a row in a detail of this side. */
export function tonesAt({ tonalResolution = [] }: PlanRow, detailMm: number): Tones {
  const found = tonalResolution.find((tones) => tones.detailMm === detailMm);
  return found ?? { detailMm, addressable: 0, nominal: 0, held: 0 };
}

/** The detail at which to compare densities: the usual one, or a larger one if the photo's own pixels are larger. */
export function comparedDetailMm(row: PlanRow): number {
  const sides = (row.tonalResolution ?? []).map(({ detailMm }) => detailMm);
  const { photoLpPerMm } = row.detail;
  const pixelMm = photoLpPerMm === undefined ? 0 : 1 / (2 * photoLpPerMm);
  return (
    sides.find((side) => side >= COMPARED_MM && side >= pixelMm) ?? sides[sides.length - 1] ?? COMPARED_MM
  );
}

/** True if the photo is too coarse for the usual detail. */
export const photoIsCoarse = (row: PlanRow): boolean => comparedDetailMm(row) > COMPARED_MM;
