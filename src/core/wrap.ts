import { refusal } from "./refusals/refusals.js";
import { pitchCountFromLengthMm } from "./units.js";

/**
 * How a picture meets a cone: `flat` as if cut from a flat sheet and rolled up, nowhere distorted; `level` along its circles,
 * each as wide as its circle is long, so that the picture's sides meet.
 */
export const coneLayouts = ["flat", "level"] as const;

export type ConeLayout = (typeof coneLayouts)[number];

/** A round piece that turns under the beam, engraved all the way round. Its rows are circles, its columns run down it. */
export interface Wrap {
  /** Diameter at the first row, and at the last. */
  readonly topMm: number;
  readonly bottomMm: number;
  readonly layout: ConeLayout;
}

export const isCone = ({ topMm, bottomMm }: Wrap): boolean => topMm !== bottomMm;

/** Diameter half-way down, at which a cone's columns have the pitch that the job names. */
export const middleDiameterMm = ({ topMm, bottomMm }: Wrap): number => (topMm + bottomMm) / 2;

export const circumferenceMm = (diameterMm: number): number => Math.PI * diameterMm;

/** Patterns of 2, 4, 8 and 16 pixels close where columns go round in sixteens; whole bytes do too. */
const COLUMNS_TOGETHER = 16;

/** Widest tile that a closed row is cut into: see `tileColumnsOf`. */
const MAX_TILE_COLUMNS = 182;

/**
 * Columns of a row that closes on itself: the nearest whole number of sixteens, and beyond 2912 of 32, 64, …, so that it
 * can be cut into equal tiles of moderate width. Rounding changes the pitch by 0.6 % at most from 1450 columns on.
 */
export function closedColumns(lengthMm: number, pitchMm: number): number {
  const wanted = pitchCountFromLengthMm(lengthMm, pitchMm);
  let together = COLUMNS_TOGETHER;
  while (together * MAX_TILE_COLUMNS < wanted) together *= 2;
  return Math.max(1, Math.round(wanted / together)) * together;
}

/** The narrowest tile of `minColumns` columns or more that goes round a closed row a whole number of times, by halves; else the row. */
export function tileColumnsOf(ringColumns: number, minColumns: number): number {
  let columns = ringColumns;
  while (columns % 2 === 0 && columns / 2 >= minColumns) columns /= 2;
  return columns;
}

/** Throws `OPTION_CONFLICT` where a cone of these diameters cannot be so short. @param slantMm height along the slope */
export function checkSlant(wrap: Wrap, slantMm: number): void {
  const minMm = Math.abs(wrap.topMm - wrap.bottomMm) / 2;
  if (slantMm > minMm) return;
  throw refusal("no-cone", { topMm: wrap.topMm, bottomMm: wrap.bottomMm, slantMm }, { received: slantMm });
}
