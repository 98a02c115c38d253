import {
  ACROSS_AFTER,
  ACROSS_BEFORE,
  ACROSS_DOSE,
  ACTING,
  AFTER,
  BOX,
  BOX_LENGTH,
  CASES,
  CHANGE,
  COLUMNS,
  COUPLING,
  DOSE,
  EYE,
  EYE_COLUMNS,
  EYE_MIDDLE,
  FIRST_DOSE,
  LUMINANCE,
  NONE,
  PULL,
  ROWS,
  SAMPLES_ACROSS,
  SAMPLES_ALONG,
  SECOND_DOSE,
  SHARES,
  STEPS,
  STEPS_PER_DOSE,
  SUMS,
  SURFACE,
  WEIGHT,
  int,
  pointer,
} from "./search-fields";
import { placeChange } from "./search-place";

/* The loops of `src/4-search/change-kernels.ts`, in the same order. */

export function shareLines(state: usize, v: i32): void {
  const samples = int(state + SAMPLES_ACROSS);
  const box = pointer(state + BOX);
  const shares = pointer(state + SHARES);
  const secondLine = load<i32>(box, 20);
  const first = v - load<i32>(box, 16);
  const second = v - secondLine;
  const before = int(state + ACROSS_BEFORE);
  const after = int(state + ACROSS_AFTER);
  const dose = pointer(state + ACROSS_DOSE);
  const firstIn = first >= -before && first <= after;
  const secondIn = secondLine !== NONE && second >= -before && second <= after;
  for (let j = 0; j < samples; j++) {
    const to = shares + ((<usize>j) << 4);
    store<f64>(to, firstIn ? load<f64>(dose + (<usize>((first + before) * samples + j) << 3)) : 0);
    store<f64>(to, secondIn ? load<f64>(dose + (<usize>((second + before) * samples + j) << 3)) : 0, 8);
  }
}

/** Two values, or one and 0. */
// @ts-ignore: decorator
@inline
function loadPair(at: usize, isPair: bool): v128 {
  return isPair ? v128.load(at) : v128.load64_zero(at);
}

/** Places on the surface table of two samples. */
// @ts-ignore: decorator
@inline
function placesOnTable(dose: v128, stepsPerDose: v128, steps: v128): v128 {
  const place = f64x2.mul(dose, stepsPerDose);
  const last = f64x2.sub(steps, f64x2.splat(1e-9));
  const below = v128.bitselect(place, last, f64x2.lt(place, steps));
  return v128.and(below, f64x2.gt(place, f64x2.splat(0)));
}

/** The change of J that is linear in the changes of the luminance factors, for one case. */
function firstOrderOfOne(state: usize): f64 {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const right = load<i32>(box, 4);
  const top = load<i32>(box, 8);
  const bottom = load<i32>(box, 12);
  const hasSecond = load<i32>(box, 20) !== NONE;
  const columns = int(state + COLUMNS);
  const samplesAlong = int(state + SAMPLES_ALONG);
  const samplesAcross = int(state + SAMPLES_ACROSS);
  const steps = f64x2.splat(<f64>int(state + STEPS));
  const stepsPerDose = f64x2.splat(<f64>int(state + STEPS_PER_DOSE));
  const surface = pointer(state + SURFACE);
  const shares = pointer(state + SHARES);
  const firstDose = pointer(state + FIRST_DOSE);
  const secondDose = pointer(state + SECOND_DOSE);
  const dose = pointer(state + DOSE);
  const weight = pointer(state + WEIGHT);
  const pull = pointer(state + PULL);
  const luminance = pointer(state + LUMINANCE);
  const after = pointer(state + AFTER);
  const change = pointer(state + CHANGE);
  const rowBytes = (<usize>(columns * samplesAlong)) << 3;
  const pixelBytes = (<usize>samplesAlong) << 3;
  const perPixel = <f64>(samplesAlong * samplesAcross);
  let first: f64 = 0;
  let at: usize = 0;
  for (let v = top; v <= bottom; v++) {
    shareLines(state, v);
    const rowAt = dose + <usize>(v * samplesAcross) * rowBytes;
    for (let u = left; u <= right; u++, at += 8) {
      let lanes = f64x2.splat(0);
      let here = rowAt + <usize>u * pixelBytes;
      const from = <usize>(u - left) * pixelBytes;
      for (let j: usize = 0; j < (<usize>samplesAcross) << 4; j += 16, here += rowBytes) {
        const byFirst = v128.load64_splat(shares + j);
        const bySecond = v128.load64_splat(shares + j, 8);
        for (let i: usize = 0; i < pixelBytes; i += 16) {
          const isPair = i + 8 < pixelBytes;
          let there = f64x2.add(loadPair(here + i, isPair), f64x2.mul(byFirst, loadPair(firstDose + from + i, isPair)));
          if (hasSecond) there = f64x2.add(there, f64x2.mul(bySecond, loadPair(secondDose + from + i, isPair)));
          const place = placesOnTable(there, stepsPerDose, steps);
          const step = i32x4.trunc_sat_f64x2_s_zero(place);
          const part = f64x2.sub(place, f64x2.convert_low_i32x4_s(step));
          const even = v128.load(surface + ((<usize>i32x4.extract_lane(step, 0)) << 3));
          const odd = isPair ? v128.load(surface + ((<usize>i32x4.extract_lane(step, 1)) << 3)) : f64x2.splat(0);
          const low = v128.shuffle<f64>(even, odd, 0, 2);
          const rise = f64x2.sub(v128.shuffle<f64>(even, odd, 1, 3), low);
          lanes = f64x2.add(lanes, f64x2.add(low, f64x2.mul(part, rise)));
        }
      }
      const sum = (f64x2.extract_lane(lanes, 0) + f64x2.extract_lane(lanes, 1)) / perPixel;
      const pixel = (<usize>(v * columns + u)) << 3;
      const by = sum - load<f64>(luminance + pixel);
      store<f64>(after + at, sum);
      store<f64>(change + at, load<f64>(weight + pixel) * by);
      first += 2 * by * load<f64>(pull + pixel);
    }
  }
  return first;
}

/** The same for any number of cases. */
function firstOrderOfAll(state: usize): f64 {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const right = load<i32>(box, 4);
  const top = load<i32>(box, 8);
  const bottom = load<i32>(box, 12);
  const columns = int(state + COLUMNS);
  const cases = <usize>int(state + CASES);
  const plane = (<usize>(columns * int(state + ROWS))) << 3;
  const boxPlane = (<usize>int(state + BOX_LENGTH)) << 3;
  const samplesAlong = int(state + SAMPLES_ALONG);
  const samplesAcross = int(state + SAMPLES_ACROSS);
  const steps = f64x2.splat(<f64>int(state + STEPS));
  const stepsPerDose = f64x2.splat(<f64>int(state + STEPS_PER_DOSE));
  const surface = pointer(state + SURFACE);
  const shares = pointer(state + SHARES);
  const sums = pointer(state + SUMS);
  const firstDose = pointer(state + FIRST_DOSE);
  const secondDose = pointer(state + SECOND_DOSE);
  const dose = pointer(state + DOSE);
  const weight = pointer(state + WEIGHT);
  const pull = pointer(state + PULL);
  const luminance = pointer(state + LUMINANCE);
  const after = pointer(state + AFTER);
  const change = pointer(state + CHANGE);
  const rowBytes = (<usize>(columns * samplesAlong)) << 3;
  const pixelBytes = (<usize>samplesAlong) << 3;
  const caseBytes = cases << 3;
  const perPixel = <f64>(samplesAlong * samplesAcross);
  let first: f64 = 0;
  let at: usize = 0;
  for (let v = top; v <= bottom; v++) {
    shareLines(state, v);
    const rowAt = dose + <usize>(v * samplesAcross) * rowBytes;
    for (let u = left; u <= right; u++, at += 8) {
      memory.fill(sums, 0, caseBytes << 1);
      let here = rowAt + <usize>u * pixelBytes;
      const from = <usize>(u - left) * pixelBytes;
      for (let j: usize = 0; j < (<usize>samplesAcross) << 4; j += 16, here += rowBytes) {
        const byFirst = v128.load64_splat(shares + j);
        const bySecond = v128.load64_splat(shares + j, 8);
        for (let i: usize = 0; i < pixelBytes; i += 16) {
          const isPair = i + 8 < pixelBytes;
          const there = f64x2.add(
            f64x2.add(loadPair(here + i, isPair), f64x2.mul(byFirst, loadPair(firstDose + from + i, isPair))),
            f64x2.mul(bySecond, loadPair(secondDose + from + i, isPair)),
          );
          const place = placesOnTable(there, stepsPerDose, steps);
          const step = i32x4.trunc_sat_f64x2_s_zero(place);
          const part = f64x2.sub(place, f64x2.convert_low_i32x4_s(step));
          const even = surface + <usize>i32x4.extract_lane(step, 0) * caseBytes;
          const odd = surface + <usize>i32x4.extract_lane(step, 1) * caseBytes;
          for (let k: usize = 0; k < caseBytes; k += 8) {
            const low = v128.load64_lane(odd + k, v128.load64_zero(even + k), 1);
            const high = v128.load64_lane(odd + k + caseBytes, v128.load64_zero(even + k + caseBytes), 1);
            let lanes = f64x2.add(low, f64x2.mul(part, f64x2.sub(high, low)));
            if (!isPair) lanes = f64x2.replace_lane(lanes, 1, 0);
            const to = sums + (k << 1);
            v128.store(to, f64x2.add(v128.load(to), lanes));
          }
        }
      }
      const pixel = (<usize>(v * columns + u)) << 3;
      for (let k: usize = 0; k < cases; k++) {
        const sum = (load<f64>(sums + (k << 4)) + load<f64>(sums + (k << 4), 8)) / perPixel;
        const by = sum - load<f64>(luminance + k * plane + pixel);
        store<f64>(after + k * boxPlane + at, sum);
        store<f64>(change + k * boxPlane + at, load<f64>(weight + pixel) * by);
        first += 2 * by * load<f64>(pull + k * plane + pixel);
      }
    }
  }
  return first;
}

/** See `tryChange`. */
export function trySearchChange(state: usize, x: i32, y: i32, step: i32, otherX: i32, otherY: i32): f64 {
  placeChange(state, x, y, step, otherX, otherY);
  return int(state + CASES) === 1 ? firstOrderOfOne(state) : firstOrderOfAll(state);
}

/** See `secondOrder`. */
export function searchSecondOrder(state: usize): f64 {
  let sum: f64 = 0;
  for (let k = 0; k < int(state + CASES); k++) {
    actOn(state, k);
    sum += seenTogether(state, k);
  }
  return sum;
}

/** See `actOn` of `change-kernels.ts`. */
export function actOn(state: usize, k: i32): void {
  const box = pointer(state + BOX);
  const cases = int(state + CASES);
  const width = load<i32>(box, 4) - load<i32>(box, 0) + 1;
  const height = load<i32>(box, 12) - load<i32>(box, 8) + 1;
  const bytes = (<usize>(width * height)) << 3;
  const acting = pointer(state + ACTING);
  memory.fill(acting, 0, bytes);
  for (let j = 0; j < cases; j++) {
    const together = load<f64>(pointer(state + COUPLING) + ((<usize>(k * cases + j)) << 3));
    if (together === 0) continue;
    const change = pointer(state + CHANGE) + <usize>(j * int(state + BOX_LENGTH)) * 8;
    for (let at: usize = 0; at < bytes; at += 8) {
      store<f64>(acting + at, load<f64>(acting + at) + together * load<f64>(change + at));
    }
  }
}

function seenTogether(state: usize, k: i32): f64 {
  const box = pointer(state + BOX);
  const width = load<i32>(box, 4) - load<i32>(box, 0) + 1;
  const height = load<i32>(box, 12) - load<i32>(box, 8) + 1;
  const acting = pointer(state + ACTING);
  const middle = pointer(state + EYE) + ((<usize>int(state + EYE_MIDDLE)) << 3);
  const eyeRow = (<usize>int(state + EYE_COLUMNS)) << 3;
  const peak = load<f64>(middle);
  const rowBytes = (<usize>width) << 3;
  const end = acting + <usize>height * rowBytes;
  let change = pointer(state + CHANGE) + ((<usize>(k * int(state + BOX_LENGTH))) << 3);
  let at = acting;
  let sum: f64 = 0;
  for (let row = acting; row < end; row += rowBytes) {
    for (let u: usize = 0; u < rowBytes; u += 8, at += 8, change += 8) {
      let lanes = f64x2.splat(0);
      let eye = middle - u;
      let i = u + 8;
      for (let from = row; from < end; from += rowBytes, eye += eyeRow) {
        for (; i + 8 < rowBytes; i += 16) {
          lanes = f64x2.add(lanes, f64x2.mul(v128.load(from + i), v128.load(eye + i)));
        }
        if (i < rowBytes) {
          lanes = f64x2.add(lanes, f64x2.mul(v128.load64_zero(from + i), v128.load64_zero(eye + i)));
        }
        i = 0;
      }
      const around = f64x2.extract_lane(lanes, 0) + f64x2.extract_lane(lanes, 1);
      sum += load<f64>(change) * (load<f64>(at) * peak + 2 * around);
    }
  }
  return sum;
}
