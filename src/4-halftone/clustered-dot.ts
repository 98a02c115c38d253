import { modulo } from "../core/modulo.js";
import type { Pitch } from "../core/plane.js";
import { MM_PER_INCH } from "../core/units.js";
import { bayerTile } from "./bayer.js";
import { cross, greatestCommonDivisor, latticePlace, type Step, tileInOrder } from "./lattice.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** The screen on the pixel grid that is nearest to the wanted one. */
export interface ClusteredScreen {
  /** One dot's cell. */
  readonly cell: ThresholdTile;
  /** The supercell that makes the halftone: the cell itself if it has enough tones. */
  readonly tile: ThresholdTile;
  readonly linesPerInch: number;
  readonly angleDeg: number;
}

/** Tones that a photograph needs. Small cells are grouped until they offer as many. */
const ENOUGH_TONES = 256;

/**
 * Clustered-dot screen of a ruling and an angle. The cell's two sides are rounded to whole pixels (rational tangents:
 * T. M. Holladay, "An optimum algorithm for halftone generation for displays and hard copies", Proc. SID 21(2) (1980),
 * 185–192), so all cells are the same. The pitches along and across may differ. Dots grow in the order of the cosine spot
 * function (cos πu + cos πv)/2 of ISO 32000-1, 10.5.5: shadows mirror highlights.
 *
 * A cell of n pixels has n + 1 tones. If these are too few, m × m cells make a supercell: its dots grow by one pixel in turn, in
 * Bayer's order. That gives m²·n + 1 tones.
 */
export function clusteredScreen(settings: HalftoneSettings): ClusteredScreen {
  const { pitch } = settings;
  const periodMm = MM_PER_INCH / settings.screenLinesPerInch;
  const angle = (settings.screenAngleDeg * Math.PI) / 180;
  const ax = Math.round((periodMm * Math.cos(angle)) / pitch.alongMm);
  const ay = Math.round((periodMm * Math.sin(angle)) / pitch.acrossMm);
  const bx = Math.round((-periodMm * Math.sin(angle)) / pitch.alongMm);
  const by = Math.round((periodMm * Math.cos(angle)) / pitch.acrossMm);
  const cellPx = Math.abs(ax * by - ay * bx);
  // The grid cannot show a finer screen: every pixel is one cell.
  if (cellPx < 2) return screenOf([1, 0], [0, 1], 1, pitch);
  return screenOf([ax, ay], [bx, by], cellPx, pitch);
}

function screenOf(a: Step, b: Step, cellPx: number, pitch: Pitch): ClusteredScreen {
  return {
    cell: supercellTile(a, b, 1),
    tile: supercellTile(a, b, supercellSide(cellPx)),
    linesPerInch: MM_PER_INCH / Math.sqrt(cellPx * pitch.alongMm * pitch.acrossMm),
    angleDeg: (Math.atan2(a[1] * pitch.acrossMm, a[0] * pitch.alongMm) * 180) / Math.PI,
  };
}

function supercellSide(cellPx: number): 1 | 2 | 4 | 8 | 16 {
  const sides = [1, 2, 4, 8] as const;
  return sides.find((side) => side * side * cellPx + 1 >= ENOUGH_TONES) ?? 16;
}

/**
 * The supercell of side × side cells spanned by a and b, as a rectangle with one entry per pixel. Each repeat down is shifted
 * sideways.
 */
export function supercellTile(a: Step, b: Step, side: 1 | 2 | 4 | 8 | 16): ThresholdTile {
  const wideA: Step = [side * a[0], side * a[1]];
  const wideB: Step = [side * b[0], side * b[1]];
  const area = side * side * Math.abs(cross(a, b));
  const rows = greatestCommonDivisor(wideA[1], wideB[1]);
  const columns = area / rows;
  const turns = side === 1 ? undefined : bayerTile(side).ranks;
  const pixels = Array.from({ length: area }, (_, index) => {
    const place = latticePlace(index, columns, [a, b]);
    const cell = modulo(place.i, side) + side * modulo(place.j, side);
    return { ...place, index, turn: turns ? turns[cell] : 0 };
  });
  // Pixels of equal spot value follow by angle, then by the turn of their cell.
  pixels.sort((p, q) => q.spot - p.spot || p.angle - q.angle || p.turn - q.turn || p.index - q.index);
  return tileInOrder(columns, rows, shiftOfRepeat(wideA, wideB, rows), pixels);
}

/** The sideways move, in columns, of the lattice vector that steps down by exactly `rows`. */
function shiftOfRepeat(a: Step, b: Step, rows: number): number {
  const [m, n] = bezout(a[1], b[1]);
  const sign = m * a[1] + n * b[1] === rows ? 1 : -1;
  return sign * (m * a[0] + n * b[0]);
}

/** Integers m, n with m·p + n·q = ±gcd(p, q) (extended Euclid). */
function bezout(p: number, q: number): [m: number, n: number] {
  if (q === 0) return [1, 0];
  const [m, n] = bezout(q, p % q);
  return [n, m - Math.trunc(p / q) * n];
}
