import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { type PatchGrid, sharedLines, type VariedCard, type VariedPatch } from "./varied-patch.js";

/** The first wave that is counted: longer ones hold smooth changes of light and dose too. */
const FIRST_WAVE = 3;
/** Standard deviation of a picture's blur in pixels: of a pixel, of the lens, and of rows that lie a little off. An assumption. */
const BLUR_PX = 1.25;
/** Waves of whose square spot and blur leave less than this are not counted, because nobody knows the blur so well. */
const LEAST_LEFT = 0.6;
/** Lines of a pattern lie no further apart than this share of the shortest wave that is counted. */
const COARSEST = 0.4;
/** Patches nearer than so many steps share more than their lines: grain and blotches. */
const LEAST_STEPS = 1.9;
/** Patches whose dose shows least: bare ones, of which any card has more. */
const QUIET = 12;
const ROUNDS = 3;
const LEAST_VARIANCE = 1e-6;
/** Standard deviation of ln dose by which products are weighted at first. */
const FIRST_DEVIATION = 0.04;

/** Sums of least squares over a row of patches: what one wave tells of the variance of lines, and of what patches share beside. */
interface RowSums {
  readonly wave: number;
  /** Weighted sums over pairs: of expected products by lines of variance 1, their squares, the products, and both. */
  readonly expected: number;
  readonly squares: number;
  readonly products: number;
  readonly both: number;
  readonly weight: number;
}

/** Rows of patches of one card, each with sums by wave. */
export type LineRows = readonly (readonly RowSums[])[];

/**
 * How far the dose differs from line to line. A line runs through all patches of a row, so its streak is the same in all of them; noise of
 * the camera is not, nor is a grain shorter than the distance. So products of the waves of two patches have the mean
 *
 *     gain · gain′ · pitch · variance of lines · mean product of the lines' doses · what spot and blur leave  +  a long grain,
 *
 * because lines that differ each for itself have the spectral density pitch · variance.
 */
export function lineRows({ grid, patches }: VariedCard): LineRows {
  const waves = countedWaves(grid, patches);
  const shortestMm = (2 * grid.waveHeightMm) / Math.max(...waves.map(({ wave }) => wave));
  const fine = patches.filter(({ lines }) => lines.length * grid.pitchMm <= COARSEST * shortestMm);
  const rows = rowsOf(fine);
  let sums: LineRows = [];
  let variance = FIRST_DEVIATION ** 2;
  for (let round = 0; round < ROUNDS; round++) {
    sums = rows.map((row) => waves.map((wave) => rowSums(row, grid, wave, variance)));
    variance = Math.max(LEAST_VARIANCE, lineVariance([sums]));
  }
  return sums;
}

/** By least squares over the rows of all cards: one variance of lines, and for each wave of a card what its patches share beside. */
export function lineVariance(cards: readonly LineRows[]): number {
  let [above, below] = [0, 0];
  for (const rows of cards) {
    for (let k = 0; k < (rows[0]?.length ?? 0); k++) {
      const total = (of: (sums: RowSums) => number) => rows.reduce((sum, row) => sum + of(row[k]), 0);
      const mean = total(({ expected }) => expected) / total(({ weight }) => weight);
      above += total(({ both }) => both) - mean * total(({ products }) => products);
      below += total(({ squares }) => squares) - mean * total(({ expected }) => expected);
    }
  }
  return above / below;
}

interface CountedWave {
  readonly wave: number;
  /** Share of its square that spot and blur leave. */
  readonly left: number;
  /** Mean square in patches that tell no dose. */
  readonly noise: number;
}

function countedWaves(grid: PatchGrid, patches: readonly VariedPatch[]): CountedWave[] {
  const sigmaMm = Math.hypot(sigmaMmFromSpotDiameterMm(grid.spotMm), BLUR_PX * grid.pixelMm);
  const quiet = [...patches].sort((a, b) => Math.abs(a.gain) - Math.abs(b.gain)).slice(0, QUIET);
  return Array.from(patches[0]?.waves ?? [], (_, k) => {
    const perMm = (k + 1) / (2 * grid.waveHeightMm);
    return {
      wave: k + 1,
      left: Math.exp(-((2 * Math.PI * perMm * sigmaMm) ** 2)),
      noise: quiet.reduce((sum, { waves }) => sum + waves[k] ** 2, 0) / quiet.length,
    };
  }).filter(({ wave, left }) => wave >= FIRST_WAVE && left >= LEAST_LEFT);
}

/** Patches that begin at the same line. */
function rowsOf(patches: readonly VariedPatch[]): VariedPatch[][] {
  const rows = new Map<number, VariedPatch[]>();
  for (const patch of patches) {
    const key = Math.round(patch.yMm * 1000);
    rows.set(key, [...(rows.get(key) ?? []), patch]);
  }
  return [...rows.values()];
}

function rowSums(
  row: readonly VariedPatch[],
  grid: PatchGrid,
  { wave, left, noise }: CountedWave,
  variance: number,
): RowSums {
  const density = grid.pitchMm * left;
  const weights = row.map(
    ({ gain, lines }) => 1 / (noise + variance * density * gain ** 2 * sharedLines(lines, lines)),
  );
  const sums = { wave, expected: 0, squares: 0, products: 0, both: 0, weight: 0 };
  for (let i = 1; i < row.length; i++) {
    for (let j = 0; j < i; j++) {
      if (Math.abs(row[i].xMm - row[j].xMm) < LEAST_STEPS * grid.stepMm) continue;
      const weight = weights[i] * weights[j];
      const expected = density * row[i].gain * row[j].gain * sharedLines(row[i].lines, row[j].lines);
      const product = row[i].waves[wave - 1] * row[j].waves[wave - 1];
      sums.weight += weight;
      sums.expected += weight * expected;
      sums.squares += weight * expected ** 2;
      sums.products += weight * product;
      sums.both += weight * expected * product;
    }
  }
  return sums;
}
