import { searchSecondOrder, trySearchChange } from "./search-change";
import {
  CASES,
  CODES,
  COLUMNS,
  COUNTS,
  GAINED,
  LEAST_GAIN,
  LEVELS,
  MOVES,
  NONE,
  PULL,
  REST,
  ROWS,
  SLACK,
  VISIT,
  int,
  pointer,
} from "./search-fields";
import { keepSearchChange } from "./search-keep";

/* The loop of `src/4-search/sweep-kernels.ts`, in the same order. */

// @ts-ignore: decorator
@inline
function sumOfPulls(state: usize, at: i32): f64 {
  const plane = (<usize>(int(state + COLUMNS) * int(state + ROWS))) << 3;
  const cases = int(state + CASES);
  let from = pointer(state + PULL) + ((<usize>at) << 3);
  let sum: f64 = 0;
  for (let k = 0; k < cases; k++, from += plane) sum += load<f64>(from);
  return sum;
}

/** See `sweepRow`. */
export function sweepSearchRow(state: usize, y: i32, massPerPull: f64): void {
  const columns = int(state + COLUMNS);
  for (let x = 0; x < columns; x++) {
    const at = y * columns + x;
    if (load<u8>(pointer(state + MOVES) + <usize>at) === 0) continue;
    const pulls = sumOfPulls(state, at);
    const slack = pointer(state + SLACK) + ((<usize>at) << 3);
    const rest = pointer(state + REST) + ((<usize>at) << 3);
    if (load<f64>(slack) !== VISIT && massPerPull * abs(pulls - load<f64>(rest)) < load<f64>(slack)) continue;
    visitPixel(state, x, y, pulls, slack, rest);
  }
}

function visitPixel(state: usize, x: i32, y: i32, pulls: f64, slack: usize, rest: usize): void {
  const columns = int(state + COLUMNS);
  const rows = int(state + ROWS);
  const levels = int(state + LEVELS);
  const codes = pointer(state + CODES);
  const moves = pointer(state + MOVES);
  const counts = pointer(state + COUNTS);
  const at = y * columns + x;
  let best = LEAST_GAIN;
  let least: f64 = Infinity;
  let bestStep = 0;
  let bestX = NONE;
  let bestY = NONE;
  for (let step = 1; step >= -1; step -= 2) {
    const level = <i32>load<u8>(codes + <usize>at) + step;
    if (level < 0 || level >= levels) continue;
    for (let n = load<u8>(moves + <usize>at) === 2 ? -1 : 0; n < 8; n++) {
      let otherX = NONE;
      let otherY = NONE;
      if (n >= 0) {
        // The eight neighbours in order, without the pixel itself.
        const cell = n < 4 ? n : n + 1;
        otherX = x + (cell % 3) - 1;
        otherY = y + cell / 3 - 1;
        if (otherX < 0 || otherY < 0 || otherX >= columns || otherY >= rows) continue;
        const other = otherY * columns + otherX;
        const otherLevel = <i32>load<u8>(codes + <usize>other) - step;
        if (load<u8>(moves + <usize>other) === 0 || otherLevel < 0 || otherLevel >= levels) continue;
      }
      store<i32>(counts, load<i32>(counts, 4) + 1, 4);
      let gain = trySearchChange(state, x, y, step, otherX, otherY);
      if (gain < best) gain += searchSecondOrder(state);
      if (gain < least) least = gain;
      if (gain < best) {
        best = gain;
        bestStep = step;
        bestX = otherX;
        bestY = otherY;
      }
    }
  }
  if (bestStep === 0) {
    store<f64>(slack, max(<f64>0, least));
    store<f64>(rest, pulls);
    return;
  }
  keepSearchChange(state, x, y, bestStep, bestX, bestY);
  store<i32>(counts, load<i32>(counts) + 1);
  const gained = pointer(state + GAINED);
  store<f64>(gained, load<f64>(gained) + best);
}
