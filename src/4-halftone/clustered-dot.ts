import { MM_PER_INCH } from "../core/units.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** A screen that fits the pixel grid: the nearest to the one asked for. */
export interface ClusteredScreen {
  readonly tile: ThresholdTile;
  readonly linesPerInch: number;
  readonly angleDeg: number;
}

/**
 * Clustered-dot screen of a ruling and an angle. The cell's two sides are rounded to whole pixels (rational tangents:
 * T. M. Holladay, "An optimum algorithm for halftone generation for displays and hard copies", Proc. SID 21(2) (1980),
 * 185–192), so every cell of the plane is the same; pitches along and across may differ. Within the cell dots grow in the
 * order of the cosine spot function (cos πu + cos πv)/2 of ISO 32000-1, 10.5.5, in which shadows mirror highlights.
 */
export function clusteredScreen(settings: HalftoneSettings): ClusteredScreen {
  const { pitch } = settings;
  const periodMm = MM_PER_INCH / settings.screenLinesPerInch;
  const angle = (settings.screenAngleDeg * Math.PI) / 180;
  const ax = Math.round((periodMm * Math.cos(angle)) / pitch.alongMm);
  const ay = Math.round((periodMm * Math.sin(angle)) / pitch.acrossMm);
  const bx = Math.round((-periodMm * Math.sin(angle)) / pitch.alongMm);
  const by = Math.round((periodMm * Math.cos(angle)) / pitch.acrossMm);
  const area = Math.abs(ax * by - ay * bx);
  if (area < 2) {
    // Finer than the grid can show: every pixel is a cell of its own.
    const tile = { columns: 1, rows: 1, shift: 0, ranks: new Uint16Array(1), rankCount: 1 };
    return { tile, linesPerInch: MM_PER_INCH / pitch.alongMm, angleDeg: 0 };
  }
  return {
    tile: cellTile([ax, ay], [bx, by], area),
    linesPerInch: MM_PER_INCH / Math.sqrt(area * pitch.alongMm * pitch.acrossMm),
    angleDeg: (Math.atan2(ay * pitch.acrossMm, ax * pitch.alongMm) * 180) / Math.PI,
  };
}

type Step = readonly [x: number, y: number];

/** The cell spanned by a and b as a rectangle that repeats with a sideways shift: as many entries as the cell has pixels. */
function cellTile(a: Step, b: Step, area: number): ThresholdTile {
  const rows = greatestCommonDivisor(a[1], b[1]);
  const columns = area / rows;
  const shift = shiftOfRepeat(a, b, rows, columns);
  const determinant = a[0] * b[1] - a[1] * b[0];
  const pixels = Array.from({ length: area }, (_, index) => {
    const x = (index % columns) + 0.5;
    const y = Math.floor(index / columns) + 0.5;
    const u = wrap((x * b[1] - y * b[0]) / determinant);
    const v = wrap((y * a[0] - x * a[1]) / determinant);
    const spot = Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v);
    // Rounded, so that mirror-image pixels tie on every machine, and the tie goes round the dot by angle.
    return { index, spot: Math.round(spot * 1e9), turn: Math.atan2(v, u) };
  });
  pixels.sort((p, q) => q.spot - p.spot || p.turn - q.turn || p.index - q.index);
  const ranks = new Uint32Array(area);
  pixels.forEach((pixel, rank) => {
    ranks[pixel.index] = rank;
  });
  return { columns, rows, shift, ranks, rankCount: area };
}

/** The sideways move, in columns, of the lattice vector that steps down by exactly `rows`. */
function shiftOfRepeat(a: Step, b: Step, rows: number, columns: number): number {
  const [m, n] = bezout(a[1], b[1]);
  const sign = m * a[1] + n * b[1] === rows ? 1 : -1;
  const shift = sign * (m * a[0] + n * b[0]);
  return ((shift % columns) + columns) % columns;
}

/** Integers m, n with m·p + n·q = ±gcd(p, q) (extended Euclid). */
function bezout(p: number, q: number): [m: number, n: number] {
  if (q === 0) return [1, 0];
  const [m, n] = bezout(q, p % q);
  return [n, m - Math.trunc(p / q) * n];
}

function greatestCommonDivisor(p: number, q: number): number {
  return q === 0 ? Math.abs(p) : greatestCommonDivisor(q, p % q);
}

/** To −½..½. */
const wrap = (cycles: number): number => cycles - Math.round(cycles);
