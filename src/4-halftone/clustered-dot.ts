import type { Pitch } from "../core/plane.js";
import { MM_PER_INCH } from "../core/units.js";
import { bayerTile } from "./bayer.js";
import type { HalftoneSettings } from "./method.js";
import type { ThresholdTile } from "./ordered.js";

/** A screen that fits the pixel grid: the nearest to the one asked for. */
export interface ClusteredScreen {
  /** One dot's cell. */
  readonly cell: ThresholdTile;
  /** The supercell that halftones: the cell itself where that has tones enough. */
  readonly tile: ThresholdTile;
  readonly linesPerInch: number;
  readonly angleDeg: number;
}

/** Tones that a photograph should have. Small cells are grouped until they offer as many. */
const ENOUGH_TONES = 256;

/**
 * Clustered-dot screen of a ruling and an angle. The cell's two sides are rounded to whole pixels (rational tangents:
 * T. M. Holladay, "An optimum algorithm for halftone generation for displays and hard copies", Proc. SID 21(2) (1980),
 * 185–192), so every cell of the plane is the same; pitches along and across may differ. Within the cell dots grow in the
 * order of the cosine spot function (cos πu + cos πv)/2 of ISO 32000-1, 10.5.5, in which shadows mirror highlights.
 *
 * A cell of n pixels has n + 1 tones. Where these are few, m × m cells make a supercell: its dots grow by a pixel in turn, in
 * Bayer's order, which gives m²·n + 1 tones.
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
  // Finer than the grid can show: every pixel is a cell of its own.
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

type Step = readonly [x: number, y: number];

/**
 * The supercell of side × side cells spanned by a and b, as a rectangle that repeats with a sideways shift: as many entries as
 * it has pixels.
 */
export function supercellTile(a: Step, b: Step, side: 1 | 2 | 4 | 8 | 16): ThresholdTile {
  const wideA: Step = [side * a[0], side * a[1]];
  const wideB: Step = [side * b[0], side * b[1]];
  const determinant = a[0] * b[1] - a[1] * b[0];
  const area = side * side * Math.abs(determinant);
  const rows = greatestCommonDivisor(wideA[1], wideB[1]);
  const columns = area / rows;
  const turns = side === 1 ? undefined : bayerTile(side).ranks;
  const pixels = Array.from({ length: area }, (_, index) => {
    const x = (index % columns) + 0.5;
    const y = Math.floor(index / columns) + 0.5;
    const alongA = (x * b[1] - y * b[0]) / determinant;
    const alongB = (y * a[0] - x * a[1]) / determinant;
    // Rounded, so that a pixel and its likeness in mirror or in the next cell tie on every machine.
    const u = rounded(alongA - Math.round(alongA));
    const v = rounded(alongB - Math.round(alongB));
    const cell = modulo(Math.round(alongA), side) + side * modulo(Math.round(alongB), side);
    return {
      index,
      spot: rounded(Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v)),
      angle: rounded(Math.atan2(v, u)),
      turn: turns ? turns[cell] : 0,
    };
  });
  // Equal spot values go round the dot by angle; then cells take their turns.
  pixels.sort((p, q) => q.spot - p.spot || p.angle - q.angle || p.turn - q.turn || p.index - q.index);
  const ranks = new Uint32Array(area);
  pixels.forEach((pixel, rank) => {
    ranks[pixel.index] = rank;
  });
  return { columns, rows, shift: shiftOfRepeat(wideA, wideB, rows, columns), ranks, rankCount: area };
}

/** The sideways move, in columns, of the lattice vector that steps down by exactly `rows`. */
function shiftOfRepeat(a: Step, b: Step, rows: number, columns: number): number {
  const [m, n] = bezout(a[1], b[1]);
  const sign = m * a[1] + n * b[1] === rows ? 1 : -1;
  const shift = sign * (m * a[0] + n * b[0]);
  return modulo(shift, columns);
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

/** To nine decimals, and never −0, whose angle would be that of the other side. */
const rounded = (value: number): number => Math.round(value * 1e9) / 1e9 + 0;

const modulo = (value: number, period: number): number => ((value % period) + period) % period;
