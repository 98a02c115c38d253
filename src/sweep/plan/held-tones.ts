import type { PlanRow } from "../../6-report/plan.js";

type Tones = NonNullable<PlanRow["tonalResolution"]>[number];

/** Side of detail that densities are compared at where the photo shows as much: fine features of a face, in mm. */
const COMPARED_MM = 0.25;

/** Tones of a row at a detail of this side. */
export function tonesAt({ tonalResolution = [] }: PlanRow, detailMm: number): Tones {
  const found = tonalResolution.find((tones) => tones.detailMm === detailMm);
  return found ?? { detailMm, addressable: 0, nominal: 0, held: 0 };
}

/** The detail to compare densities at: the usual one, or a larger one where the photo's own pixels are larger. */
export function comparedDetailMm(row: PlanRow): number {
  const sides = (row.tonalResolution ?? []).map(({ detailMm }) => detailMm);
  const { photoLpPerMm } = row.detail;
  const pixelMm = photoLpPerMm === undefined ? 0 : 1 / (2 * photoLpPerMm);
  return (
    sides.find((side) => side >= COMPARED_MM && side >= pixelMm) ?? sides[sides.length - 1] ?? COMPARED_MM
  );
}

/** True where the photo is too coarse for the detail that densities are usually compared at. */
export const photoIsCoarse = (row: PlanRow): boolean => comparedDetailMm(row) > COMPARED_MM;
