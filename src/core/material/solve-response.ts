import { type Equation, nonnegativeLeastSquares } from "../nonnegative-least-squares.js";
import { lightnessFromLuminance, lightnessSlope } from "../physics/lightness.js";
import { rippleDoses } from "../physics/line-dose.js";
import type { ResponsePoints } from "./response.js";
import { type FillLuminances, solidFills } from "./solid-fills.js";

/** The largest difference in L* between a table and the simulated fills of a response. */
export interface Departure {
  readonly lightness: number;
  readonly dose: number;
}

export interface SolvedResponse {
  readonly points: ResponsePoints;
  readonly departure: Departure;
  /** Weight of the correction's roughness against the errors of the fills; 0 if the table needed no correction. */
  readonly smoothing: number;
}

/** Fills with wider gaps mark next to nothing, and nobody measures them. */
export const MAX_PITCH_OVER_SPOT = 10;
/** A table whose fills differ from it by no more than this, in L*, stands as it is: a hundredth of what is just noticeable. */
const NO_RIPPLE = 0.01;
/** A fit with an error of no more than this, in L* rms, cannot be improved: tables are rounded more coarsely. */
const EXACT = 0.003;
/** Of all smoothings the strongest is taken whose error is at most this multiple of the least: a closer fit follows noise. */
const AS_GOOD = 1.1;
/**
 * Largest ratio of neighbouring doses beyond the table, up to the line centres of its last fill. A lower peak adds no dose at all.
 */
const BEYOND_RATIO = 1.7;
const FLAT_PEAK = 1.02;
/** Smoothing starts here and is halved. Below the smallest one nothing is gained, and noise becomes steps of R. */
const MAX_SMOOTHING = 1;
const MIN_SMOOTHING = 1 / 2048;
/** The mean of a fill is not quite linear in the values of R, because slopes follow from them. Three steps suffice for 0.01 L*. */
const NEWTON_STEPS = 3;
/** Keeps R steady where no fill has any dose. */
const STEADINESS = 1e-6;
/** Roughness is measured along ln(dose + this share of the last dose): ripple widens a dose by a ratio. */
const DOSE_FLOOR = 0.1;
/** Doses that are closer by that logarithm count as this far apart: a bend between them says nothing. */
const CLOSEST = 0.001;
/** Weight of roughness at doses beyond the table. The table's own end says little about R there, and the fills say more. */
const WEIGHT_BEYOND = 0.1;

/**
 * The response of a surface whose solid fills were measured with ripple: simulated fills of it reproduce the table, and its
 * correction to the table is the smoothest that does so. It is monotone, within 0..1, and the monotone cubic through its points:
 * the doses of the table and one or a few beyond, up to the line centres of the last fill. The first row is the bare surface.
 *
 * @param table luminance factors of fills by mean dose
 * @param pitchOverSpot of those fills, across the lines
 * @param lineExponent of lines that do not add (section 14)
 */
export function solveResponse(
  table: ResponsePoints,
  pitchOverSpot: number,
  lineExponent = 1,
): SolvedResponse {
  const ripple = rippleDoses(pitchOverSpot, lineExponent);
  const asItStands = departureOf(table, table, ripple);
  if (asItStands.lightness <= NO_RIPPLE) return { points: table, departure: asItStands, smoothing: 0 };
  const { points, smoothing } = smoothestGood(new RippleProblem(table, ripple), table, ripple);
  return { points, smoothing, departure: departureOf(points, table, ripple) };
}

interface Attempt {
  readonly points: ResponsePoints;
  readonly smoothing: number;
  readonly errorRms: number;
}

function smoothestGood(problem: RippleProblem, table: ResponsePoints, ripple: Float64Array): Attempt {
  const attempts: Attempt[] = [];
  for (let smoothing = MAX_SMOOTHING; smoothing >= MIN_SMOOTHING; smoothing /= 2) {
    const points = problem.solve(smoothing);
    const errors = errorsOf(points, table, ripple);
    const errorRms = Math.hypot(...errors) / Math.sqrt(errors.length);
    attempts.push({ points, smoothing, errorRms });
    if (errorRms <= EXACT) break;
  }
  const enough = EXACT + AS_GOOD * Math.min(...attempts.map(({ errorRms }) => errorRms));
  return attempts.find(({ errorRms }) => errorRms <= enough) ?? attempts[attempts.length - 1];
}

/** How far the fills of a response are from a table. */
export function departureOf(points: ResponsePoints, table: ResponsePoints, ripple: Float64Array): Departure {
  return errorsOf(points, table, ripple).reduce<Departure>(
    (worst, error, i) =>
      Math.abs(error) > worst.lightness ? { lightness: Math.abs(error), dose: table[i + 1][0] } : worst,
    { lightness: 0, dose: table[0][0] },
  );
}

/** Simulated minus measured tone of each fill but the bare surface, in L*. */
function errorsOf(points: ResponsePoints, table: ResponsePoints, ripple: Float64Array): number[] {
  const fills = table.slice(1);
  const simulated = solidFills(dosesOf(points), dosesOf(fills), ripple)(luminancesOf(points));
  return fills.map(
    ([, luminance], i) => lightnessFromLuminance(simulated[i]) - lightnessFromLuminance(luminance),
  );
}

const dosesOf = (points: ResponsePoints): number[] => points.map(([dose]) => dose);
const luminancesOf = (points: ResponsePoints): number[] => points.map(([, luminance]) => luminance);

/**
 * Unknowns are the steps of R from knot to knot, all of one sign. Errors and corrections are weighted by the slope of L* at the
 * table's own tones, so both are in L*.
 */
class RippleProblem {
  private readonly table: ResponsePoints;
  private readonly knots: readonly number[];
  /** The table at the knots, constant beyond its end. */
  private readonly base: Float64Array;
  private readonly perLuminance: Float64Array;
  private readonly sign: number;
  private readonly fills: FillLuminances;
  private readonly roughness: readonly Float64Array[];
  private values: Float64Array;

  constructor(table: ResponsePoints, ripple: Float64Array) {
    const doses = dosesOf(table);
    this.table = table;
    this.knots = [...doses, ...dosesBeyond(doses[doses.length - 1], Math.max(...ripple))];
    const end = table.length - 1;
    this.base = Float64Array.from(this.knots, (_, k) => table[Math.min(k, end)][1]);
    this.perLuminance = this.base.map(lightnessSlope);
    this.sign = Math.sign(table[end][1] - table[0][1]);
    this.fills = solidFills(this.knots, doses.slice(1), ripple);
    this.roughness = secondDifferences(this.knots, table.length);
    this.values = this.base;
  }

  /** The response with this much smoothing, from where the last one ended. */
  solve(smoothing: number): ResponsePoints {
    for (let step = 0; step < NEWTON_STEPS; step++) {
      const equations = [...this.fitting(), ...this.smoothing(smoothing), ...this.steadying()];
      this.values = this.valuesOf(nonnegativeLeastSquares(equations));
    }
    return this.knots.map((dose, k) => [dose, this.values[k]] as const);
  }

  /** A step that would leave 0..1 ends there. */
  private valuesOf(steps: Float64Array): Float64Array {
    const values = new Float64Array(this.knots.length);
    values[0] = this.base[0];
    for (let k = 1; k < values.length; k++) {
      values[k] = Math.min(1, Math.max(0, values[k - 1] + this.sign * steps[k - 1]));
    }
    return values;
  }

  /** Fills as in the table, linearised at the present response. */
  private fitting(): Equation[] {
    const present = this.fills(this.values);
    const byKnot = this.knots.map((_, k) => this.sensitivity(k, present));
    return present.reduce<Equation[]>((equations, simulated, row) => {
      const weight = this.perLuminance[row + 1];
      const ofKnots = byKnot.map((sensitivity) => weight * sensitivity[row]);
      const error = weight * (this.table[row + 1][1] - simulated);
      equations.push(this.inSteps(ofKnots, error + this.change(ofKnots)));
      return equations;
    }, []);
  }

  /** Change of the fills by the value at one knot, one-sided towards the inside of the tone scale. */
  private sensitivity(knot: number, present: Float64Array): Float64Array {
    const by = this.values[knot] > 0.5 ? -1e-6 : 1e-6;
    const moved = Float64Array.from(this.values);
    moved[knot] += by;
    return this.fills(moved).map((luminance, row) => (luminance - present[row]) / by);
  }

  /** What the present response, beyond the bare surface, contributes to an equation. */
  private change(ofKnots: readonly number[]): number {
    return ofKnots.reduce((sum, share, k) => sum + share * (this.values[k] - this.base[0]), 0);
  }

  /** Small second differences of the correction, in L*. */
  private smoothing(smoothing: number): Equation[] {
    return this.roughness.map((difference) => {
      const ofKnots = Array.from(difference, (share, k) => smoothing * share * this.perLuminance[k]);
      const ofTable = ofKnots.reduce((sum, share, k) => sum + share * (this.base[k] - this.base[0]), 0);
      return this.inSteps(ofKnots, ofTable);
    });
  }

  private steadying(): Equation[] {
    return Array.from({ length: this.knots.length - 1 }, (_, step) => ({
      coefficients: Float64Array.from({ length: this.knots.length - 1 }, (__, other) =>
        other === step ? STEADINESS * this.perLuminance[step + 1] : 0,
      ),
      value: 0,
    }));
  }

  /** An equation in the knots' changes from the bare surface, as one in steps: a step moves all knots after it. */
  private inSteps(ofKnots: readonly number[], value: number): Equation {
    const coefficients = new Float64Array(ofKnots.length - 1);
    let after = 0;
    for (let k = ofKnots.length - 1; k > 0; k--) {
      after += ofKnots[k];
      coefficients[k - 1] = this.sign * after;
    }
    return { coefficients, value };
  }
}

/** Doses from the last one to the line centres of its fill, in equal ratios. */
function dosesBeyond(lastDose: number, peak: number): number[] {
  if (peak <= FLAT_PEAK) return [];
  const count = Math.ceil(Math.log(peak) / Math.log(BEYOND_RATIO));
  return Array.from({ length: count }, (_, i) => lastDose * peak ** ((i + 1) / count));
}

/**
 * Rows whose product with a curve's values has the integral of its squared second derivative for squared length.
 *
 * @param inTable knots that are doses of the table; rows with others weigh less
 */
function secondDifferences(knots: readonly number[], inTable: number): Float64Array[] {
  const floor = DOSE_FLOOR * knots[knots.length - 1];
  const at = knots.map((dose) => Math.log(dose + floor));
  return Array.from({ length: knots.length - 2 }, (_, i) => {
    const before = Math.max(CLOSEST, at[i + 1] - at[i]);
    const after = Math.max(CLOSEST, at[i + 2] - at[i + 1]);
    const weight = (i + 2 < inTable ? 1 : WEIGHT_BEYOND) / Math.sqrt((before + after) / 2);
    const row = new Float64Array(knots.length);
    row[i] = weight / before;
    row[i + 1] = -weight / before - weight / after;
    row[i + 2] = weight / after;
    return row;
  });
}
