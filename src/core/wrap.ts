import { refusal } from "./refusals/refusals.js";
import { pitchCountFromLengthMm } from "./units.js";

/**
 * How a picture lies on a cone. `flat`: undistorted, as on a flat sheet that is rolled up. `level`: rows follow the circles of the
 * cone, each as long as its circle, so that the sides of the picture meet.
 */
export const coneLayouts = ["flat", "level"] as const;

/** A round piece that turns under the beam and is engraved all the way round. Its rows are circles. */
export interface Wrap {
  /** Diameter at the first row, and at the last. */
  readonly topMm: number;
  readonly bottomMm: number;
  readonly layout: (typeof coneLayouts)[number];
}

export const isCone = ({ topMm, bottomMm }: Wrap): boolean => topMm !== bottomMm;

/** Diameter half-way down. There the columns of a cone have the pitch of the job. */
export const middleDiameterMm = ({ topMm, bottomMm }: Wrap): number => (topMm + bottomMm) / 2;

export const circumferenceMm = (diameterMm: number): number => Math.PI * diameterMm;

/** Patterns of 2, 4, 8 and 16 pixels, and whole bytes, close on a multiple of 16 columns. */
const COLUMNS_TOGETHER = 16;

/** Largest width of the tiles of a closed row: see `tileColumnsOf`. */
const MAX_TILE_COLUMNS = 182;

/**
 * Number of columns of a closed row: the nearest multiple of 16, above 2912 columns of 32, 64, …, so that the row divides into
 * equal tiles of moderate width. From 1450 columns, rounding changes the pitch by no more than 0.6 %.
 */
export function closedColumns(lengthMm: number, pitchMm: number): number {
  const wanted = pitchCountFromLengthMm(lengthMm, pitchMm);
  let together = COLUMNS_TOGETHER;
  while (together * MAX_TILE_COLUMNS < wanted) together *= 2;
  return Math.max(1, Math.round(wanted / together)) * together;
}

/** The narrowest tile of at least `minColumns` columns, found by halving a closed row; the whole row if no half is wide enough. */
export function tileColumnsOf(ringColumns: number, minColumns: number): number {
  let columns = ringColumns;
  while (columns % 2 === 0 && columns / 2 >= minColumns) columns /= 2;
  return columns;
}

/** Throws `OPTION_CONFLICT` if a cone with these diameters cannot be so short. @param slantMm height along the slope */
export function checkSlant(wrap: Wrap, slantMm: number): void {
  const minMm = Math.abs(wrap.topMm - wrap.bottomMm) / 2;
  if (slantMm > minMm) return;
  throw refusal("no-cone", { topMm: wrap.topMm, bottomMm: wrap.bottomMm, slantMm }, { received: slantMm });
}
