import { Matrix, solve } from "ml-matrix";
import { cubicTerms } from "../core/cubic-terms.js";
import { medianOf } from "../core/median.js";

/** A reference patch: its middle on the card as shares of the card's sides, −1 to 1, its light, and whether it is solid. */
export interface Reference {
  readonly x: number;
  readonly y: number;
  readonly light: number;
  readonly isSolid: boolean;
}

/** The light that falls on the card, from references of known kind. */
export interface EvenLight {
  /** Light of a bare surface there. */
  readonly bareAt: (x: number, y: number) => number;
  /** Luminance of a solid fill as a share of the bare surface's. */
  readonly solidOverBare: number;
  /** Standard deviation of what is left of ln light at the references. */
  readonly residual: number;
}

const ROUNDS = 6;
/** Huber's constant: residuals beyond so many standard deviations count less (P. J. Huber, Robust Statistics, 1981, from memory). */
const HUBER = 1.345;

/**
 * The surface of light through the references, in logarithms: the light of a solid patch is a constant share of that of a bare one
 * at the same place. Spoilt references are forgotten by weights.
 */
export function evenLight(references: readonly Reference[]): EvenLight {
  const rows = references.map(({ x, y, isSolid }) => [...cubicTerms(x, y), isSolid ? 1 : 0]);
  const right = references.map(({ light }) => Math.log(light));
  let weights = references.map(() => 1);
  let unknowns: number[] = [];
  let residuals: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const weighted = rows.map((row, k) => row.map((each) => each * Math.sqrt(weights[k])));
    const wanted = right.map((each, k) => [each * Math.sqrt(weights[k])]);
    unknowns = solve(new Matrix(weighted), new Matrix(wanted), true).getColumn(0);
    residuals = rows.map((row, k) => right[k] - row.reduce((sum, each, i) => sum + each * unknowns[i], 0));
    const scale = 1.4826 * medianOf(residuals.map(Math.abs)) + 1e-9;
    weights = residuals.map((each) => Math.min(1, (HUBER * scale) / (Math.abs(each) + 1e-12)));
  }
  const surface = unknowns.slice(0, -1);
  return {
    bareAt: (x, y) => Math.exp(cubicTerms(x, y).reduce((sum, each, i) => sum + each * surface[i], 0)),
    solidOverBare: Math.exp(unknowns[unknowns.length - 1]),
    residual: 1.4826 * medianOf(residuals.map(Math.abs)),
  };
}
