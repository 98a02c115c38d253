import { modulo } from "../core/modulo.js";
import type { PatternTile } from "../core/pattern-tile.js";
import type { Pitch } from "../core/plane.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { lineDose } from "./line-dose.js";
import { litStretches } from "./lit-stretches.js";
import type { TrialBeam } from "./trial-beam.js";

/** Reach of a spot across the lines, in standard deviations: 1e-9 of the peak is left beyond. */
const REACH_SIGMAS = 6.5;

/** How a pattern is burned, and in how many places its dose is asked. */
export interface BurnedPattern {
  readonly tile: PatternTile;
  readonly pitch: Pitch;
  /** Number of power levels of the tile's codes; 2 for on and off. */
  readonly levels: number;
  /** Places in one period of the pattern along the lines and across them. Fixed, so that the doses change smoothly with the beam. */
  readonly placesAlong: number;
  /** A multiple of the rows of the period. */
  readonly placesAcross: number;
}

/** Rows after which a pattern repeats with lines of the same direction. */
export const periodRows = ({ rows }: PatternTile, oneWay: boolean): number =>
  oneWay || rows % 2 === 0 ? rows : 2 * rows;

/**
 * Dose over one period of a pattern that repeats without end, relative to the mean dose of a solid fill: [places across × along], the
 * midpoints of equal parts. The first row is a line in the direction of travel 1.
 */
export function patternDoses(pattern: BurnedPattern, beam: TrialBeam): Float64Array {
  const { placesAlong, placesAcross } = pattern;
  const rows = periodRows(pattern.tile, beam.oneWay);
  const placesPerRow = placesAcross / rows;
  const q = beam.lineExponent;
  const share = shareAcross(pattern, beam, rows);
  const doses = new Float64Array(placesAlong * placesAcross);
  for (const line of exposedLines(pattern, beam, rows)) {
    for (let t = 0; t < placesAcross; t++) {
      let shares = 0;
      for (const j of line.rows) shares += share[modulo(t - j * placesPerRow, placesAcross)];
      const first = t * placesAlong;
      for (let i = 0; i < placesAlong; i++) doses[first + i] += shares * line.dose[i];
    }
  }
  if (q !== 1) for (let i = 0; i < doses.length; i++) doses[i] **= 1 / q;
  return doses;
}

/** Lines of a period that are exposed alike. */
interface ExposedLine {
  readonly rows: number[];
  /** Along the line by itself, raised to the line exponent. */
  readonly dose: Float64Array;
}

function exposedLines(pattern: BurnedPattern, beam: TrialBeam, rows: number): Iterable<ExposedLine> {
  const known = new Map<string, ExposedLine>();
  for (let j = 0; j < rows; j++) {
    const back = j % 2 === 1 && !beam.oneWay;
    const codes = rowOf(pattern.tile, j);
    if (codes.every((code) => code === 0)) continue;
    const key = `${back} ${codes}`;
    const line = known.get(key) ?? { rows: [], dose: exposedLine(codes, pattern, beam, back) };
    line.rows.push(j);
    known.set(key, line);
  }
  return known.values();
}

function rowOf({ columns, rows, codes }: PatternTile, row: number): number[] {
  const first = (row % rows) * columns;
  return [...codes.subarray(first, first + columns)];
}

function exposedLine(
  codes: readonly number[],
  { pitch, levels, placesAlong }: BurnedPattern,
  beam: TrialBeam,
  back: boolean,
): Float64Array {
  const powers = codes.map((code) => code / (levels - 1));
  const lit = litStretches(back ? powers.reverse() : powers, pitch.alongMm, beam.lossMm);
  const line = { lit, periodMm: codes.length * pitch.alongMm, places: placesAlong };
  const dose = lineDose(line, beam, back ? beam.lineShiftMm : 0);
  if (back) dose.reverse();
  return beam.lineExponent === 1 ? dose : dose.map((value) => value ** beam.lineExponent);
}

/** What the first line and its repeats leave at each place across, raised to the line exponent. */
function shareAcross({ pitch, placesAcross }: BurnedPattern, beam: TrialBeam, rows: number): Float64Array {
  const q = beam.lineExponent;
  const sigmaMm = sigmaMmFromSpotDiameterMm(beam.acrossMm);
  const periodMm = rows * pitch.acrossMm;
  const peak = (pitch.acrossMm / (sigmaMm * Math.sqrt(2 * Math.PI))) ** q;
  const repeats = Math.ceil((REACH_SIGMAS * sigmaMm) / periodMm) + 1;
  return Float64Array.from({ length: placesAcross }, (_, t) => {
    const yMm = ((t + 0.5) / placesAcross) * periodMm - pitch.acrossMm / 2;
    let sum = 0;
    for (let m = -repeats; m <= repeats; m++) {
      sum += Math.exp((-q / 2) * ((yMm + m * periodMm) / sigmaMm) ** 2);
    }
    return peak * sum;
  });
}
