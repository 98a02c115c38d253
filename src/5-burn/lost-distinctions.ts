import { lightnessFromLuminance } from "../core/physics/lightness.js";
import { cyclesPerDegreeFromPerMm, eyeModulation } from "../core/physics/modulation.js";
import { emptySums, sumFromCorner } from "./aperture.js";
import type { Viewing } from "./eye-filter.js";

/** What takes the distinctions of a place: levels, merging into bare surface or solid fill, or too little left to see. */
export const lossCauses = ["levels", "bare", "solid", "faint"] as const;
/** What becomes of the distinctions of a place. Without any it is plain. */
export const fates = ["plain", "kept", ...lossCauses] as const;

export type Fate = (typeof fates)[number];
export type LossCause = (typeof lossCauses)[number];

const PLAIN = fates.indexOf("plain");
const KEPT = fates.indexOf("kept");

/** Sides of the apertures, in cells: fine detail, features, and areas. */
const APERTURES_CELLS = [1, 3, 9] as const;

/** A difference in the photo that counts, in L* as the eye sees it: three just noticeable differences. */
const SEEN_IN_PHOTO = 3;
/** A smaller difference on the piece is gone. 1 L* is about a just noticeable difference between large areas (CIE 15, L*a*b*). */
const JUST_NOTICEABLE = 1;
/** A smaller deviation in L* is rounding. */
const MIN_SPREAD = 1e-4;
/** Nearer to the bare surface or to a solid fill than this, in L*, a place has merged into it. */
const MERGED = 2;

/** Small pictures of one piece as it is seen, row after row, one value a cell. */
export interface DistinctionPlanes {
  readonly columns: number;
  readonly rows: number;
  readonly cellMm: number;
  /** Linear luminance 0..1 of the photo as it came, and after the adjustments of tone. */
  readonly photo: Float32Array;
  readonly toned: Float32Array;
  /** Predicted luminance factors. */
  readonly piece: Float32Array;
  /** 1 for cells to judge. */
  readonly judged: Uint8Array;
}

/** What the piece can show. */
export interface ShownBy {
  /** Wanted luminance factor by the photo's linear luminance. */
  readonly wanted: (luminance: number) => number;
  readonly bare: number;
  readonly solid: number;
  /** Step in L* between two tones that a detail of this side holds. */
  readonly heldStep: (sideMm: number) => number;
  /** True if the picture becomes ink and bare surface, without tones between. */
  readonly twoTones: boolean;
  readonly viewing: Viewing;
}

/**
 * The fate of each cell, as its place in `fates`.
 *
 * It follows the loss of visible contrast of T. O. Aydın, R. Mantiuk, K. Myszkowski, H.-P. Seidel, "Dynamic range independent
 * image quality assessment", ACM Trans. Graph. 27(3), 2008: a contrast that is visible in one picture and not in the other is lost,
 * band by band, and any band counts. A contrast that is only smaller is not lost, so a material with a short range of tones loses
 * nothing by that alone. Here a band is the spread of L* between nine neighbouring apertures, weighted by the eye's modulation
 * (Näsänen 1984) at their period. The piece's contrast counts as far as it follows the wanted one: grain is no distinction.
 */
export function lostDistinctions(planes: DistinctionPlanes, shown: ShownBy): Uint8Array {
  const fate = new Uint8Array(planes.columns * planes.rows);
  const strongest = new Float32Array(fate.length);
  for (const cells of APERTURES_CELLS) judgeBand(planes, shown, cells, fate, strongest);
  return fate;
}

/** Adds one band to the fates. Of several causes at a cell, that of the band which the photo shows most strongly stays. */
function judgeBand(
  planes: DistinctionPlanes,
  shown: ShownBy,
  cells: number,
  fate: Uint8Array,
  strongest: Float32Array,
): void {
  const { columns, rows, cellMm, judged } = planes;
  const sideMm = cells * cellMm;
  const { distanceMm, luminanceCdPerM2 } = shown.viewing;
  const eye = eyeModulation(cyclesPerDegreeFromPerMm(1 / (2 * sideMm), distanceMm), luminanceCdPerM2);
  const floor = Math.max(JUST_NOTICEABLE / eye, shown.heldStep(sideMm));
  const band = bandOf(planes, shown, cells);
  const ends = [shown.bare, shown.solid].map(lightnessFromLuminance);
  for (let y = 0, at = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, at++) {
      if (judged[at] === 0) continue;
      gather(planes, cells, x, y, band.places);
      const seen = eye * contrast(band.photo, band.places);
      if (seen < SEEN_IN_PHOTO) continue;
      const kept = followed(band.piece, band.wanted, band.places) >= floor;
      if (kept) {
        if (fate[at] === PLAIN) fate[at] = KEPT;
      } else if (seen > strongest[at]) {
        strongest[at] = seen;
        fate[at] = fates.indexOf(causeAt(band, floor, ends, shown.twoTones));
      }
    }
  }
}

/** Lightness of every aperture of a band. */
interface Band {
  readonly photo: Float32Array;
  /** As the material would show the photo as it came. */
  readonly unadjusted: Float32Array;
  readonly wanted: Float32Array;
  readonly piece: Float32Array;
  /** Indices of the nine apertures about the current cell. */
  readonly places: Int32Array;
}

function bandOf(planes: DistinctionPlanes, { wanted }: ShownBy, cells: number): Band {
  const [photo, toned, piece] = [planes.photo, planes.toned, planes.piece].map((plane) =>
    apertureMeans(plane, planes, cells),
  );
  return {
    photo: photo.map(lightnessFromLuminance),
    unadjusted: photo.map(wanted).map(lightnessFromLuminance),
    wanted: toned.map(wanted).map(lightnessFromLuminance),
    piece: piece.map(lightnessFromLuminance),
    places: new Int32Array(9),
  };
}

/** The mean of a square of cells about each cell, as far as it lies inside. @param cells odd */
function apertureMeans(
  plane: Float32Array,
  { columns, rows }: Pick<DistinctionPlanes, "columns" | "rows">,
  cells: number,
): Float32Array {
  if (cells === 1) return plane;
  const corner = emptySums(columns, rows);
  sumFromCorner(plane, corner);
  const { sums } = corner;
  const reach = (cells - 1) / 2;
  const out = new Float32Array(plane.length);
  for (let y = 0, at = 0; y < rows; y++) {
    const top = Math.max(0, y - reach) * (columns + 1);
    const bottom = Math.min(rows, y + reach + 1) * (columns + 1);
    for (let x = 0; x < columns; x++, at++) {
      const left = Math.max(0, x - reach);
      const right = Math.min(columns, x + reach + 1);
      const sum = sums[bottom + right] - sums[bottom + left] - sums[top + right] + sums[top + left];
      out[at] = sum / (((bottom - top) / (columns + 1)) * (right - left));
    }
  }
  return out;
}

/** Writes the indices of the nine apertures about a cell. Beyond the edges the outermost cell repeats. */
function gather(
  { columns, rows }: DistinctionPlanes,
  step: number,
  x: number,
  y: number,
  places: Int32Array,
): void {
  for (let k = 0, dy = -step; dy <= step; dy += step) {
    const row = Math.min(rows - 1, Math.max(0, y + dy)) * columns;
    for (let dx = -step; dx <= step; dx += step) {
      places[k++] = row + Math.min(columns - 1, Math.max(0, x + dx));
    }
  }
}

/** Twice the standard deviation: the difference between the halves of a window that has only two tones. */
const contrast = (lightness: Float32Array, places: Int32Array): number =>
  2 * Math.sqrt(covariance(lightness, lightness, places));

/** The contrast of the piece as far as it rises and falls with the wanted picture. */
function followed(piece: Float32Array, wanted: Float32Array, places: Int32Array): number {
  const spread = Math.sqrt(covariance(wanted, wanted, places));
  return spread > MIN_SPREAD ? (2 * covariance(piece, wanted, places)) / spread : 0;
}

function covariance(one: Float32Array, other: Float32Array, places: Int32Array): number {
  let [sumOne, sumOther, products] = [0, 0, 0];
  for (let k = 0; k < places.length; k++) {
    const a = one[places[k]];
    const b = other[places[k]];
    sumOne += a;
    sumOther += b;
    products += a * b;
  }
  // Rounding may leave a tiny negative variance.
  const mean = (products - (sumOne * sumOther) / places.length) / places.length;
  return one === other ? Math.max(0, mean) : mean;
}

function meanOf(values: Float32Array, places: Int32Array): number {
  let sum = 0;
  for (let k = 0; k < places.length; k++) sum += values[places[k]];
  return sum / places.length;
}

/** The first step from photo to piece after which a contrast falls below `floor`. */
function causeAt(
  { unadjusted, wanted, piece, places }: Band,
  floor: number,
  [bare, solid]: readonly number[],
  twoTones: boolean,
): LossCause {
  if (!twoTones) {
    if (contrast(unadjusted, places) < floor) return "faint";
    if (contrast(wanted, places) < floor) return "levels";
  }
  const mean = meanOf(piece, places);
  if (Math.abs(mean - bare) < MERGED) return "bare";
  return Math.abs(mean - solid) < MERGED ? "solid" : "faint";
}
