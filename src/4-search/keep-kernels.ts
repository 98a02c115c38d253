import { actOn, type Change, shareLines, tryChange } from "./change-kernels.js";
import { burstReach, NONE, type SearchState, VISIT } from "./search-state.js";

/** Keeps a change: bitmap, doses, luminance factors and pulls. */
export function keepChange(state: SearchState, change: Change): void {
  if (state.memory.simd) {
    const { x, y, step, otherX, otherY } = change;
    state.memory.simd.keepSearchChange(state.fields.byteOffset, x, y, step, otherX, otherY);
    return;
  }
  const { codes, columns } = state;
  const { x, y, step, otherX, otherY } = change;
  tryChange(state, change);
  keepDose(state);
  codes[y * columns + x] += step;
  if (otherX !== NONE) codes[otherY * columns + otherX] -= step;
  keepLuminance(state);
  for (let k = 0; k < state.cases; k++) {
    actOn(state, k);
    pullNear(state, k);
    pullFar(state, k);
  }
  visitAround(state);
}

function keepDose(state: SearchState): void {
  const { columns, dose, trial, model } = state;
  const { samplesAlong, samplesAcross } = model;
  const { box, firstDose, secondDose, shares } = trial;
  const [left, right, top, bottom] = box;
  const width = columns * samplesAlong;
  const length = (right - left + 1) * samplesAlong;
  for (let v = top; v <= bottom; v++) {
    shareLines(state, v);
    for (let j = 0; j < samplesAcross; j++) {
      const at = (v * samplesAcross + j) * width + left * samplesAlong;
      const first = shares[2 * j];
      const second = shares[2 * j + 1];
      for (let i = 0; i < length; i++) dose[at + i] += first * firstDose[i] + second * secondDose[i];
    }
  }
}

function keepLuminance({ columns, rows, cases, trial, luminance }: SearchState): void {
  const [left, right, top, bottom] = trial.box;
  const width = right - left + 1;
  for (let k = 0; k < cases; k++) {
    let from = k * trial.boxLength;
    for (let v = top; v <= bottom; v++, from += width) {
      luminance.set(trial.after.subarray(from, from + width), k * columns * rows + v * columns + left);
    }
  }
}

/** Pulls within the exact distance of the box. */
function pullNear({ columns, rows, exactPx, weight, pull, trial, model }: SearchState, k: number): void {
  const { reachAlong, reachAcross, seen } = model.eye;
  const [left, right, top, bottom] = trial.box;
  const { acting } = trial;
  const plane = k * columns * rows;
  const [fromX, toX] = [Math.max(0, left - exactPx), Math.min(columns - 1, right + exactPx)];
  const [fromY, toY] = [Math.max(0, top - exactPx), Math.min(rows - 1, bottom + exactPx)];
  for (let y = fromY; y <= toY; y++) {
    for (let v = top, at = 0; v <= bottom; v++) {
      const down = Math.abs(y - v);
      if (down > reachAcross) {
        at += right - left + 1;
        continue;
      }
      const line = down * (reachAlong + 1);
      for (let u = left; u <= right; u++, at++) {
        const by = acting[at];
        const [first, last] = [Math.max(fromX, u - reachAlong), Math.min(toX, u + reachAlong)];
        for (let x = first; x <= last; x++) {
          const pixel = y * columns + x;
          pull[plane + pixel] += weight[pixel] * (by * seen[line + Math.abs(x - u)]);
        }
      }
    }
  }
}

/** Pulls further off, from the sum of the changes and its first moment about the centre. */
function pullFar(state: SearchState, k: number): void {
  const { columns, rows, exactPx, trial, model } = state;
  const { reachAlong, reachAcross } = model.eye;
  const [left, right, top, bottom] = trial.box;
  const [centreX, centreY] = [(left + right) >> 1, (top + bottom) >> 1];
  const moments = { plane: k * columns * rows, centreX, centreY, sum: 0, x: 0, y: 0 };
  for (let v = top, at = 0; v <= bottom; v++) {
    for (let u = left; u <= right; u++, at++) {
      moments.sum += trial.acting[at];
      moments.x += trial.acting[at] * (u - centreX);
      moments.y += trial.acting[at] * (v - centreY);
    }
  }
  const [fromX, toX] = [Math.max(0, centreX - reachAlong), Math.min(columns - 1, centreX + reachAlong)];
  const [fromY, toY] = [Math.max(0, centreY - reachAcross), Math.min(rows - 1, centreY + reachAcross)];
  for (let y = fromY; y <= toY; y++) {
    if (y < top - exactPx || y > bottom + exactPx) {
      pullRow(state, moments, y, fromX, toX);
      continue;
    }
    pullRow(state, moments, y, fromX, Math.min(toX, left - exactPx - 1));
    pullRow(state, moments, y, Math.max(fromX, right + exactPx + 1), toX);
  }
}

/** Changes that act on the pulls of a case, from afar. */
interface Moments {
  readonly plane: number;
  readonly centreX: number;
  readonly centreY: number;
  sum: number;
  x: number;
  y: number;
}

function pullRow(
  { columns, weight, pull, model }: SearchState,
  moments: Moments,
  y: number,
  first: number,
  last: number,
): void {
  const { reachAlong, seen, seenRight, seenDown } = model.eye;
  const down = y - moments.centreY;
  const line = Math.abs(down) * (reachAlong + 1);
  const byY = down < 0 ? -moments.y : moments.y;
  for (let x = first; x <= last; x++) {
    const right = x - moments.centreX;
    const at = line + Math.abs(right);
    const byX = right < 0 ? -moments.x : moments.x;
    const here = moments.sum * seen[at] + byX * seenRight[at] + byY * seenDown[at];
    const pixel = y * columns + x;
    pull[moments.plane + pixel] += weight[pixel] * here;
  }
}

/** All pixels whose marks, or those of a neighbour, reach a changed luminance factor have to be visited again. */
function visitAround({ columns, rows, slack, trial, model }: SearchState): void {
  const { across, evenLines, oddLines } = model;
  const before = Math.max(evenLines.after + burstReach(evenLines), oddLines.after + burstReach(oddLines));
  const after = Math.max(evenLines.before + burstReach(evenLines), oddLines.before + burstReach(oddLines));
  const [left, right, top, bottom] = trial.box;
  const [fromX, toX] = [Math.max(0, left - before - 1), Math.min(columns - 1, right + after + 1)];
  const [fromY, toY] = [Math.max(0, top - across.after - 1), Math.min(rows - 1, bottom + across.before + 1)];
  for (let y = fromY; y <= toY; y++) slack.fill(VISIT, y * columns + fromX, y * columns + toX + 1);
}
