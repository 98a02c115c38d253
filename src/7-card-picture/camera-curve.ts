import { Matrix, solve } from "ml-matrix";
import { cubicTerms } from "../core/cubic-terms.js";
import { srgbFromLinear } from "../core/physics/transfer.js";

/** The same patches in one of several pictures. */
export interface ExposedCard {
  /** Light of each patch, as if the camera wrote sRGB; NaN for one that does not count. */
  readonly light: ArrayLike<number>;
  /** Ln exposure by what the camera wrote into the file; undefined if it did not. */
  readonly lnExposure: number | undefined;
}

/** The middle of a patch as shares of the card's sides, −1 to 1. */
interface Place {
  readonly x: number;
  readonly y: number;
}

/** How a camera departs from sRGB: ln light = ln light by sRGB + a polynomial in the code. */
export interface CameraCurve {
  /** Of √code, code, code², code³: the root serves the foot of the curve. */
  readonly coefficients: readonly number[];
  /** Codes between which it is known, 0..1; beyond them the correction stays as it is there. */
  readonly from: number;
  readonly to: number;
}

/** Exposures differ by so much at least, as ln of a ratio: 0.15 stops. */
const LEAST_RATIO = 0.15 * Math.LN2;
const POWERS = [0.5, 1, 2, 3];
const LEAST_PATCHES = 40;
const ROUNDS = 8;
const HUBER = 1.345;
/** Standard deviations: of what is read of a patch, of exposures by the camera's word, and of coefficients. */
const [READING, EXPOSURE, COEFFICIENT] = [0.01, 0.001, 20];

/**
 * The curve of a camera from pictures of one card at several known exposures (P. E. Debevec, J. Malik, SIGGRAPH 1997; a polynomial as
 * in T. Mitsunaga, S. K. Nayar, CVPR 1999; both from memory): between two pictures the light of all patches changes by the ratio of
 * exposures, but for a smooth change over the card. Of unknown exposures light to any power fits as well, so they tell nothing here.
 * Undefined if no two exposures are known and differ, or if no curve that rises fits.
 */
export function cameraCurve(
  pictures: readonly ExposedCard[],
  places: readonly Place[],
): CameraCurve | undefined {
  const [first, ...others] = pictures.filter(({ lnExposure }) => lnExposure !== undefined);
  const pairs = others
    .map((other) => pairOf(first, other))
    .filter(({ lnRatio, patches }) => Math.abs(lnRatio) >= LEAST_RATIO && patches.length >= LEAST_PATCHES);
  if (pairs.length === 0) return undefined;
  const unknowns = POWERS.length + pairs.length * SURFACE;
  const equations = [
    ...pairs.flatMap((pair, n) => pairEquations(pair, POWERS.length + n * SURFACE, unknowns, places)),
    ...POWERS.map((_, i) => ({ row: rowOf(unknowns, i, [1]), value: 0, deviation: COEFFICIENT })),
  ];
  const coefficients = robustSolution(equations).slice(0, POWERS.length);
  const codes = pairs.flatMap(({ patches }) => patches.flatMap((each) => [each.code, each.otherCode]));
  const curve = { coefficients, from: Math.min(...codes), to: Math.max(...codes) };
  return rises(curve) ? curve : undefined;
}

const SURFACE = cubicTerms(0, 0).length;

interface Pair {
  /** Ln exposure of the other picture over the first. */
  readonly lnRatio: number;
  readonly patches: readonly {
    readonly k: number;
    /** Of ln light, as if the camera wrote sRGB. */
    readonly change: number;
    readonly code: number;
    readonly otherCode: number;
  }[];
}

function pairOf(first: ExposedCard, other: ExposedCard): Pair {
  const patches = Array.from(first.light, (light, k) => ({
    k,
    change: Math.log(other.light[k] / light),
    ...{ code: codeOf(light), otherCode: codeOf(other.light[k]) },
  }));
  return {
    lnRatio: Number(other.lnExposure) - Number(first.lnExposure),
    patches: patches.filter(({ change }) => Number.isFinite(change)),
  };
}

const codeOf = (light: number): number => srgbFromLinear(Math.min(1, Math.max(0, light)));

interface Equation {
  readonly row: readonly number[];
  readonly value: number;
  readonly deviation: number;
}

/** A row of an equation that has these values from a place on. */
function rowOf(length: number, from: number, values: readonly number[]): number[] {
  const row = new Array<number>(length).fill(0);
  for (const [i, value] of values.entries()) row[from + i] = value;
  return row;
}

/** Ln light by sRGB changes by the exposure, evenly over the card, less what the correction changes. */
function pairEquations(
  { patches, lnRatio }: Pair,
  surfaceAt: number,
  unknowns: number,
  places: readonly Place[],
): Equation[] {
  return [
    ...patches.map(({ k, change, code, otherCode }) => {
      const row = rowOf(unknowns, surfaceAt, cubicTerms(places[k].x, places[k].y));
      for (const [i, power] of POWERS.entries()) row[i] = code ** power - otherCode ** power;
      return { row, value: change, deviation: READING };
    }),
    { row: rowOf(unknowns, surfaceAt, cubicTerms(0, 0)), value: lnRatio, deviation: EXPOSURE },
  ];
}

/** Least squares, with Huber's weights for what was read of patches. */
function robustSolution(equations: readonly Equation[]): number[] {
  let weights = equations.map(() => 1);
  let unknowns: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const shares = equations.map(({ deviation }, k) => Math.sqrt(weights[k]) / deviation);
    const rows = equations.map(({ row }, k) => row.map((each) => each * shares[k]));
    const values = equations.map(({ value }, k) => [value * shares[k]]);
    unknowns = solve(new Matrix(rows), new Matrix(values), true).getColumn(0);
    weights = equations.map(({ row, value, deviation }) => {
      if (deviation !== READING) return 1;
      const off = value - row.reduce((sum, each, i) => sum + each * unknowns[i], 0);
      return Math.min(1, HUBER / (Math.abs(off / deviation) + 1e-12));
    });
  }
  return unknowns;
}

const STEPS = 200;

function rises(curve: CameraCurve): boolean {
  const lights = Array.from({ length: STEPS }, (_, k) => correctedLight(curve, ((k + 1) / STEPS) ** 2.2));
  return lights.every((light, k) => k === 0 || light > lights[k - 1]);
}

/** Light that the camera saw, from what it would be if the camera wrote sRGB, 0..1. The brightest stays as it is. */
export function correctedLight({ coefficients, from, to }: CameraCurve, light: number): number {
  const code = Math.min(to, Math.max(from, codeOf(light)));
  const correction = coefficients.reduce(
    (sum, each, i) => sum + each * (code ** POWERS[i] - to ** POWERS[i]),
    0,
  );
  return light * Math.exp(correction);
}
