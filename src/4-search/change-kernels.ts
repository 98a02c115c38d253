import { addPixelChange } from "./line-change.js";
import type { MarkProfile } from "./search-model.js";
import { burstReachTo, lineOf, NONE, type SearchState } from "./search-state.js";

/** A change of a bitmap: a pixel goes `step` power levels up, and perhaps a neighbour as many down. */
export interface Change {
  x: number;
  y: number;
  step: number;
  /** `NONE` if no other pixel changes. */
  otherX: number;
  otherY: number;
}

/** The change of J that is linear in the changes of the luminance factors. Fills `state.trial`. */
export function tryChange(state: SearchState, change: Change): number {
  if (state.memory.simd) {
    const { x, y, step, otherX, otherY } = change;
    return state.memory.simd.trySearchChange(state.fields.byteOffset, x, y, step, otherX, otherY);
  }
  placeChange(state, change);
  return firstOrder(state);
}

/** What the changes of the last trial add to J among themselves. Never negative: an eye sees each change by itself. */
export function secondOrder(state: SearchState): number {
  if (state.memory.simd) return state.memory.simd.searchSecondOrder(state.fields.byteOffset);
  let sum = 0;
  for (let k = 0; k < state.cases; k++) {
    actOn(state, k);
    sum += seenTogether(state, k);
  }
  return sum;
}

/** What acts on a case: the changes of all cases, as they are coupled to it, to `trial.acting`. */
export function actOn({ cases, trial, model }: SearchState, k: number): void {
  const { change, acting, box, boxLength } = trial;
  const length = (box[1] - box[0] + 1) * (box[3] - box[2] + 1);
  acting.fill(0, 0, length);
  for (let j = 0; j < cases; j++) {
    const together = model.coupling[k * cases + j];
    if (together === 0) continue;
    for (let at = 0; at < length; at++) acting[at] += together * change[j * boxLength + at];
  }
}

/**
 * The part of a case in Σ change(p) · eye(p − q) · acting(q) over all cases. As coupling is symmetric, each pair of pixels is met once:
 * what is to the right or below counts twice. Sums run in two lanes, as the vector kernel takes them.
 */
function seenTogether({ trial }: SearchState, k: number): number {
  const { box, change, acting, boxLength, eye } = trial;
  const width = box[1] - box[0] + 1;
  const height = box[3] - box[2] + 1;
  let sum = 0;
  for (let v = 0, at = 0; v < height; v++) {
    for (let u = 0; u < width; u++, at++) {
      let even = 0;
      let odd = 0;
      for (let j = v; j < height; j++) {
        const line = (j - v) * eye.columns + eye.middle - u;
        const from = j * width;
        let i = j === v ? u + 1 : 0;
        for (; i + 1 < width; i += 2) {
          even += acting[from + i] * eye.seen[line + i];
          odd += acting[from + i + 1] * eye.seen[line + i + 1];
        }
        if (i < width) even += acting[from + i] * eye.seen[line + i];
      }
      sum += change[k * boxLength + at] * (acting[at] * eye.seen[eye.middle] + 2 * (even + odd));
    }
  }
  return sum;
}

/** The box that a change reaches, and its doses along the lines. */
function placeChange(state: SearchState, { x, y, step, otherX, otherY }: Change): void {
  const { model, columns, codes, trial } = state;
  const { across, samplesAlong, levels } = model;
  const { box, firstDose, secondDose } = trial;
  const isSwap = otherX !== NONE;
  const line = lineOf(state, y);
  const other = isSwap ? lineOf(state, otherY) : line;
  const leftEnd = x - line.before - burstReachTo(line, -1);
  const rightEnd = x + line.after + burstReachTo(line, 1);
  const left = isSwap ? Math.min(leftEnd, otherX - other.before - burstReachTo(other, -1)) : leftEnd;
  const right = isSwap ? Math.max(rightEnd, otherX + other.after + burstReachTo(other, 1)) : rightEnd;
  box[0] = left;
  box[1] = right;
  box[2] = (isSwap ? Math.min(y, otherY) : y) - across.before;
  box[3] = (isSwap ? Math.max(y, otherY) : y) + across.after;
  box[4] = y;
  box[5] = isSwap && otherY !== y ? otherY : NONE;
  const used = (right - left + 1) * samplesAlong;
  firstDose.fill(0, 0, used);
  secondDose.fill(0, 0, used);
  const to = (out: Float64Array) => ({ out, left, samples: samplesAlong });
  const rowAt = (row: number) => ({ codes, from: row * columns, columns });
  addPixelChange(line, rowAt(y), { x, levels, step }, to(firstDose));
  if (!isSwap) return;
  const same = otherY === y;
  // The second pixel of a line sees the first one changed: its burst may have begun or ended there.
  if (same) codes[y * columns + x] += step;
  addPixelChange(other, rowAt(otherY), { x: otherX, levels, step: -step }, to(same ? firstDose : secondDose));
  if (same) codes[y * columns + x] -= step;
}

function firstOrder(state: SearchState): number {
  const { model, columns, rows, cases, trial, luminance, weight, pull } = state;
  const [left, right, top, bottom] = trial.box;
  const { samplesAlong } = model;
  const pixels = columns * rows;
  let first = 0;
  for (let v = top, at = 0; v <= bottom; v++) {
    shareLines(state, v);
    for (let u = left; u <= right; u++, at++) {
      const pixel = v * columns + u;
      respondAt(state, u, v, (u - left) * samplesAlong);
      for (let k = 0; k < cases; k++) {
        const by = trial.sums[2 * k] - luminance[k * pixels + pixel];
        trial.after[k * trial.boxLength + at] = trial.sums[2 * k];
        trial.change[k * trial.boxLength + at] = weight[pixel] * by;
        first += 2 * by * pull[k * pixels + pixel];
      }
    }
  }
  return first;
}

/** Shares of the two lines' doses at the samples of a row. */
export function shareLines({ model, trial }: SearchState, v: number): void {
  const { across, samplesAcross } = model;
  const [, , , , firstLine, secondLine] = trial.box;
  for (let j = 0; j < samplesAcross; j++) {
    trial.shares[2 * j] = doseAcross(across, v - firstLine, j, samplesAcross);
    trial.shares[2 * j + 1] = secondLine === NONE ? 0 : doseAcross(across, v - secondLine, j, samplesAcross);
  }
}

/** Dose at sample j of a row that lies so many rows below the line. */
function doseAcross(across: MarkProfile, rows: number, sample: number, samples: number): number {
  if (rows < -across.before || rows > across.after) return 0;
  return across.dose[(rows + across.before) * samples + sample];
}

/**
 * Luminance factors of a pixel, for each case, with the doses of the trial on top, to every second of `trial.sums`. The samples of a line
 * are summed in two lanes, as the vector kernel takes them.
 *
 * @param from place of its first sample in the doses of the trial
 */
export function respondAt(state: SearchState, x: number, y: number, from: number): void {
  const { columns, cases, dose, surface, model, trial } = state;
  const { samplesAlong, samplesAcross, stepsPerDose, steps } = model;
  const { firstDose, secondDose, shares, sums } = trial;
  const width = columns * samplesAlong;
  sums.fill(0);
  for (let j = 0; j < samplesAcross; j++) {
    const at = (y * samplesAcross + j) * width + x * samplesAlong;
    const first = shares[2 * j];
    const second = shares[2 * j + 1];
    for (let i = 0; i < samplesAlong; i++) {
      const here =
        (dose[at + i] + first * firstDose[from + i] + second * secondDose[from + i]) * stepsPerDose;
      // Rounding may leave a dose just below zero.
      const place = here > 0 ? (here < steps ? here : steps - 1e-9) : 0;
      const step = place | 0;
      const part = place - step;
      const entry = step * cases;
      for (let k = 0; k < cases; k++) {
        const low = surface[entry + k];
        sums[2 * k + (i & 1)] += low + part * (surface[entry + cases + k] - low);
      }
    }
  }
  for (let k = 0; k < cases; k++)
    sums[2 * k] = (sums[2 * k] + sums[2 * k + 1]) / (samplesAlong * samplesAcross);
}
