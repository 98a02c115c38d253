import { refusal } from "./refusals/refusals.js";
import { pitchCountFromLengthMm } from "./units.js";

/**
 * How a picture lies on a cone. `flat`: undistorted, as on a flat sheet that is rolled up. `level`: rows follow the circles of the
 * cone, each as long as its circle, so that the sides of the picture meet.
 */
export const coneLayouts = ["flat", "level"] as const;

/** Diameters at two ends of a round piece, or of a part of it. */
export interface Diameters {
  readonly topMm: number;
  readonly bottomMm: number;
}

/** The circles of a bitmap's rows: diameters at the upper edge of the first row, and at the lower edge of the last. */
export interface Circles extends Diameters {
  /** True if every row is a whole turn. */
  readonly ring: boolean;
}

/**
 * A round piece that turns under the beam. Its rows are circles. The diameters are those at the top and bottom of the picture, or
 * with a known wall those at the rim and the foot.
 */
export interface Wrap extends Diameters {
  readonly layout: (typeof coneLayouts)[number];
  /** The place of a picture that does not go all the way round. */
  readonly placing?: Placing;
}

/** Where the user wants a picture. Lengths are measured down the surface, on a cone along its slope. */
export interface Placing {
  /** From the rim to the top of the picture. */
  readonly fromRimMm?: number | undefined;
  /** From the user's mark to the middle of the picture, in degrees 0..360, counted to the right with the rim up. */
  readonly angleDeg: number;
  /** From the rim to the foot. */
  readonly wallMm?: number | undefined;
}

export const isCone = ({ topMm, bottomMm }: Diameters): boolean => topMm !== bottomMm;

/** Diameter half-way down. There the columns of a cone have the pitch of the job. */
export const middleDiameterMm = ({ topMm, bottomMm }: Diameters): number => (topMm + bottomMm) / 2;

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

/** Throws `OPTION_CONFLICT` if a cone with these diameters cannot be so short. @param slantMm length along the slope */
export function checkSlant({ topMm, bottomMm, placing }: Wrap, slantMm: number): void {
  const minMm = Math.abs(topMm - bottomMm) / 2;
  if (slantMm > minMm) return;
  const data = { topMm, bottomMm, slantMm };
  if (placing?.wallMm !== undefined) throw refusal("no-cone-wall", data, { received: slantMm });
  throw refusal("no-cone", { ...data, placed: placing !== undefined }, { received: slantMm });
}
