import { type Change, secondOrder, tryChange } from "./change-kernels.js";
import { keepChange } from "./keep-kernels.js";
import { MOVES, STAYS } from "./search-model.js";
import { NONE, type SearchState, VISIT } from "./search-state.js";

/** A change must lower J by more than rounding errors. */
const LEAST_GAIN = -1e-9;

/** The eight neighbours, from the top left one on: steps to the right and down. */
const NEIGHBOURS = [-1, -1, 0, -1, 1, -1, -1, 0, 1, 0, -1, 1, 0, 1, 1, 1] as const;

/**
 * Visits the pixels of a row that may change. Of one level up or down, and of the same together with the opposite change of a neighbour,
 * it keeps the best if that lowers J.
 *
 * A pixel is left out if nothing changed within its reach since its last visit, and the pulls on it changed by less than its best change
 * was short of lowering J.
 *
 * @param massPerPull how much J changes at most, for a change of a pixel and of the sum of the pulls on it by 1
 */
export function sweepRow(state: SearchState, y: number, massPerPull: number): void {
  if (state.memory.simd) {
    state.memory.simd.sweepSearchRow(state.fields.byteOffset, y, massPerPull);
    return;
  }
  const { columns, rows, codes, moves, slack, rest, counts, gained, model } = state;
  const change: Change = { x: 0, y, step: 0, otherX: NONE, otherY: NONE };
  for (let x = 0; x < columns; x++) {
    const at = y * columns + x;
    if (moves[at] === STAYS) continue;
    const pulls = sumOfPulls(state, at);
    if (slack[at] !== VISIT && massPerPull * Math.abs(pulls - rest[at]) < slack[at]) continue;
    let best = LEAST_GAIN;
    let least = Number.POSITIVE_INFINITY;
    let [bestStep, bestX, bestY] = [0, NONE, NONE];
    for (let step = 1; step >= -1; step -= 2) {
      const level = codes[at] + step;
      if (level < 0 || level >= model.levels) continue;
      for (let n = moves[at] === MOVES ? -1 : 0; n < 8; n++) {
        const otherX = n < 0 ? NONE : x + NEIGHBOURS[2 * n];
        const otherY = n < 0 ? NONE : y + NEIGHBOURS[2 * n + 1];
        if (n >= 0) {
          if (otherX < 0 || otherY < 0 || otherX >= columns || otherY >= rows) continue;
          const other = otherY * columns + otherX;
          const otherLevel = codes[other] - step;
          if (moves[other] === STAYS || otherLevel < 0 || otherLevel >= model.levels) continue;
        }
        change.x = x;
        change.step = step;
        change.otherX = otherX;
        change.otherY = otherY;
        counts[1]++;
        let gain = tryChange(state, change);
        if (gain < best) gain += secondOrder(state);
        if (gain < least) least = gain;
        if (gain < best) [best, bestStep, bestX, bestY] = [gain, step, otherX, otherY];
      }
    }
    if (bestStep === 0) {
      slack[at] = Math.max(0, least);
      rest[at] = pulls;
      continue;
    }
    change.step = bestStep;
    change.otherX = bestX;
    change.otherY = bestY;
    keepChange(state, change);
    counts[0]++;
    gained[0] += best;
  }
}

function sumOfPulls({ cases, columns, rows, pull }: SearchState, at: number): number {
  let sum = 0;
  for (let k = 0; k < cases; k++) sum += pull[k * columns * rows + at];
  return sum;
}
