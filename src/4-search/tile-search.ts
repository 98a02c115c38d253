import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { type Change, respondAt, secondOrder, tryChange } from "./change-kernels.js";
import { keepChange } from "./keep-kernels.js";
import { splitPixel } from "./line-change.js";
import { type SearchModel, type SearchTile, STAYS } from "./search-model.js";
import { changeReach, createSearchState, lineOf, type SearchState } from "./search-state.js";
import { sweepRow } from "./sweep-kernels.js";

/** What a sweep did. */
export interface Sweep {
  /** Changes that were kept, and that were tried. */
  readonly changes: number;
  readonly trials: number;
  /** Sum of the changes of J. */
  readonly gain: number;
}

/**
 * A search over one tile: direct binary search (M. Analoui, J. P. Allebach, "Model-based halftoning using direct binary search", Proc.
 * SPIE 1666, 1992) with the burn in the loop. The luminance factor of a pixel is the mean over its samples of the surface's response
 * to the dose, so what a change does is no sum of what its pixels do. It is computed anew for each trial, in double precision.
 */
export class TileSearch {
  private readonly state: SearchState;
  private readonly massPerPull: number;

  /**
   * @param exactPx within this distance of a change pulls are exact; further off they are those of its sum and its centre
   * @param memory freed by the caller
   */
  constructor(
    model: SearchModel,
    tile: SearchTile,
    exactPx: number,
    memory: KernelMemory = createKernelMemory(),
  ) {
    checkMargin(model, tile);
    this.state = createSearchState(model, tile, exactPx, memory);
    burnAll(this.state);
    respondAll(this.state);
    this.massPerPull = 2 * usualMass(model);
  }

  /** [rows × columns] Power levels. */
  get codes(): Uint8Array {
    return this.state.codes;
  }

  /** [cases × rows × columns] Luminance factors, and ½ ∂J/∂(luminance factor). */
  get luminance(): Float64Array {
    return this.state.luminance;
  }
  get pull(): Float64Array {
    return this.state.pull;
  }

  /** How much a change changes J. If that is `limit` or more, a lower bound of it will do. */
  gain(limit: number, change: Change): number {
    const first = tryChange(this.state, change);
    return first >= limit ? first : first + secondOrder(this.state);
  }

  accept(change: Change): void {
    keepChange(this.state, change);
  }

  /** Visits every pixel once. */
  sweep(): Sweep {
    const { counts, gained, rows } = this.state;
    counts.fill(0);
    gained.fill(0);
    for (let y = 0; y < rows; y++) sweepRow(this.state, y, this.massPerPull);
    return { changes: counts[0], trials: counts[1], gain: gained[0] };
  }
}

/** Throws `RangeError` if a change could reach beyond the tile. */
function checkMargin(model: SearchModel, { columns, rows, moves }: SearchTile): void {
  const { along, across } = changeReach(model);
  for (let y = 0; y < rows; y++) {
    const inside = y >= across && y < rows - across;
    for (let x = 0; x < columns; x++) {
      if (moves[y * columns + x] === STAYS || (inside && x >= along && x < columns - along)) continue;
      throw new RangeError(`A change at (${x}, ${y}) would reach beyond the tile.`);
    }
  }
}

/** The dose of the whole bitmap, line by line. */
function burnAll(state: SearchState): void {
  const { columns, rows, codes, dose, model } = state;
  const { samplesAlong, samplesAcross, across, levels } = model;
  const width = columns * samplesAlong;
  const line = new Float64Array(width);
  for (let y = 0; y < rows; y++) {
    line.fill(0);
    const mark = lineOf(state, y);
    const row = { codes, from: y * columns, columns };
    for (let x = 0; x < columns; x++) {
      const [whole, part] = mark.bursts ? splitPixel(mark.bursts, row, x) : [codes[y * columns + x], 0];
      const at = (x - mark.before) * samplesAlong;
      if (whole > 0) addMark(line, mark.dose, at, whole / (levels - 1));
      if (part > 0 && mark.bursts) addMark(line, mark.bursts.part, at, part / (levels - 1));
    }
    const top = (y - across.before) * samplesAcross;
    for (let r = 0; r < across.dose.length; r++) {
      const to = (top + r) * width;
      if (to < 0 || to >= dose.length) continue;
      const by = across.dose[r];
      for (let c = 0; c < width; c++) dose[to + c] += by * line[c];
    }
  }
}

/** Adds a mark to a line, cut at its ends. */
function addMark(line: Float64Array, dose: Float64Array, at: number, part: number): void {
  for (let i = Math.max(0, -at); i < dose.length && at + i < line.length; i++) line[at + i] += part * dose[i];
}

/** Luminance factors of the whole bitmap. No trial has been made: its doses are 0. */
function respondAll(state: SearchState): void {
  const { columns, rows, cases, luminance, trial } = state;
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      respondAt(state, x, y, 0);
      for (let k = 0; k < cases; k++) luminance[(k * rows + y) * columns + x] = trial.sums[2 * k];
    }
  }
}

/**
 * About how much luminance factors change in sum by one step of a pixel: a quarter of the whole range for full power. The largest
 * change there can be is some ten times that on a steep material; with it a third more pixels are visited, for no lower error.
 */
function usualMass({ surface, steps, levels }: SearchModel): number {
  const ranges = surface.map((table) => Math.abs(table[steps] - table[0]));
  return Math.max(...ranges) / 4 / (levels - 1);
}
