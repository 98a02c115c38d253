import {
  ACROSS_AFTER,
  ACROSS_BEFORE,
  ACROSS_DOSE,
  AFTER,
  BOX,
  BOX_LENGTH,
  BOX_SEEN,
  CASES,
  CHANGE,
  COLUMNS,
  COUPLING,
  DOSE,
  EYE_ALONG,
  FIRST_DOSE,
  LUMINANCE,
  NONE,
  PULL,
  ROWS,
  SAMPLES_ACROSS,
  SAMPLES_ALONG,
  SECOND_DOSE,
  SEEN,
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

// @ts-ignore: decorator
@inline
function placeOnTable(here: f64, steps: f64): f64 {
  return here > 0 ? (here < steps ? here : steps - 1e-9) : 0;
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
  const steps = <f64>int(state + STEPS);
  const stepsPerDose = <f64>int(state + STEPS_PER_DOSE);
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
      let sum: f64 = 0;
      let here = rowAt + <usize>u * pixelBytes;
      const from = <usize>(u - left) * pixelBytes;
      for (let j: usize = 0; j < (<usize>samplesAcross) << 4; j += 16, here += rowBytes) {
        const byFirst = load<f64>(shares + j);
        const bySecond = load<f64>(shares + j, 8);
        for (let i: usize = 0; i < pixelBytes; i += 8) {
          let there = load<f64>(here + i) + byFirst * load<f64>(firstDose + from + i);
          if (hasSecond) there += bySecond * load<f64>(secondDose + from + i);
          const place = placeOnTable(there * stepsPerDose, steps);
          const step = <i32>place;
          const entry = surface + ((<usize>step) << 3);
          const low = load<f64>(entry);
          sum += low + (place - <f64>step) * (load<f64>(entry, 8) - low);
        }
      }
      sum /= perPixel;
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
  const steps = <f64>int(state + STEPS);
  const stepsPerDose = <f64>int(state + STEPS_PER_DOSE);
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
      for (let k: usize = 0; k < caseBytes; k += 8) store<f64>(sums + k, 0);
      let here = rowAt + <usize>u * pixelBytes;
      const from = <usize>(u - left) * pixelBytes;
      for (let j: usize = 0; j < (<usize>samplesAcross) << 4; j += 16, here += rowBytes) {
        const byFirst = load<f64>(shares + j);
        const bySecond = load<f64>(shares + j, 8);
        for (let i: usize = 0; i < pixelBytes; i += 8) {
          const there =
            load<f64>(here + i) +
            byFirst * load<f64>(firstDose + from + i) +
            bySecond * load<f64>(secondDose + from + i);
          const place = placeOnTable(there * stepsPerDose, steps);
          const step = <i32>place;
          const part = place - <f64>step;
          const entry = surface + <usize>step * caseBytes;
          for (let k: usize = 0; k < caseBytes; k += 8) {
            const low = load<f64>(entry + k);
            store<f64>(sums + k, load<f64>(sums + k) + (low + part * (load<f64>(entry + caseBytes + k) - low)));
          }
        }
      }
      const pixel = (<usize>(v * columns + u)) << 3;
      for (let k: usize = 0; k < cases; k++) {
        const sum = load<f64>(sums + (k << 3)) / perPixel;
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
  const box = pointer(state + BOX);
  const width = load<i32>(box, 4) - load<i32>(box, 0) + 1;
  const height = load<i32>(box, 12) - load<i32>(box, 8) + 1;
  const cases = int(state + CASES);
  const boxPlane = (<usize>int(state + BOX_LENGTH)) << 3;
  const change = pointer(state + CHANGE);
  const boxSeen = pointer(state + BOX_SEEN);
  const eye = pointer(state + SEEN);
  const eyeRow = int(state + EYE_ALONG) + 1;
  for (let k = 0; k < cases; k++) {
    const given = change + <usize>k * boxPlane;
    let out = boxSeen + <usize>k * boxPlane;
    for (let v = 0; v < height; v++) {
      for (let u = 0; u < width; u++, out += 8) {
        let here: f64 = 0;
        let from = given;
        for (let j = 0; j < height; j++) {
          const line = eye + ((<usize>(abs(j - v) * eyeRow)) << 3);
          for (let i = 0; i < width; i++, from += 8) {
            here += load<f64>(from) * load<f64>(line + ((<usize>abs(i - u)) << 3));
          }
        }
        store<f64>(out, here);
      }
    }
  }
  const bytes = (<usize>(width * height)) << 3;
  const coupling = pointer(state + COUPLING);
  let sum: f64 = 0;
  for (let j = 0; j < cases; j++) {
    for (let k = 0; k < cases; k++) {
      const together = load<f64>(coupling + ((<usize>(j * cases + k)) << 3));
      if (together === 0) continue;
      const first = change + <usize>j * boxPlane;
      const second = boxSeen + <usize>k * boxPlane;
      let product: f64 = 0;
      for (let at: usize = 0; at < bytes; at += 8) product += load<f64>(first + at) * load<f64>(second + at);
      sum += together * product;
    }
  }
  return sum;
}
