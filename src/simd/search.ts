/*
 * The changes of a search: see `src/4-search/change-kernels.ts` and `sweep-kernels.ts`, whose loops these are, in the same order.
 * `state` is the address of the numbers and addresses of `search-state.ts`, 32 bits each.
 */

const COLUMNS: usize = 0 << 2;
const ROWS: usize = 1 << 2;
const FIRST_ROW: usize = 2 << 2;
const LEVELS: usize = 3 << 2;
const CASES: usize = 4 << 2;
const SAMPLES_ALONG: usize = 5 << 2;
const SAMPLES_ACROSS: usize = 6 << 2;
const STEPS: usize = 7 << 2;
const STEPS_PER_DOSE: usize = 8 << 2;
const ACROSS_BEFORE: usize = 9 << 2;
const ACROSS_AFTER: usize = 10 << 2;
const EXACT_PX: usize = 11 << 2;
const EYE_ALONG: usize = 12 << 2;
const EYE_ACROSS: usize = 13 << 2;
const BOX_LENGTH: usize = 14 << 2;
const CODES: usize = 15 << 2;
const MOVES: usize = 16 << 2;
const WEIGHT: usize = 17 << 2;
const PULL: usize = 18 << 2;
const LUMINANCE: usize = 19 << 2;
const DOSE: usize = 20 << 2;
const SURFACE: usize = 21 << 2;
const COUPLING: usize = 22 << 2;
const SLACK: usize = 23 << 2;
const REST: usize = 24 << 2;
const SEEN: usize = 25 << 2;
const SEEN_RIGHT: usize = 26 << 2;
const SEEN_DOWN: usize = 27 << 2;
const ACROSS_DOSE: usize = 28 << 2;
const BOX: usize = 29 << 2;
const FIRST_DOSE: usize = 30 << 2;
const SECOND_DOSE: usize = 31 << 2;
const AFTER: usize = 32 << 2;
const CHANGE: usize = 33 << 2;
const BOX_SEEN: usize = 34 << 2;
const SHARES: usize = 35 << 2;
const SUMS: usize = 36 << 2;
const COUNTS: usize = 37 << 2;
const GAINED: usize = 38 << 2;
const EVEN_LINES: usize = 39 << 2;
const ODD_LINES: usize = 47 << 2;

/** Of a line. */
const BEFORE: usize = 0 << 2;
const AFTER_PX: usize = 1 << 2;
const LINE_DOSE: usize = 2 << 2;
const HAS_BURSTS: usize = 3 << 2;
const DIRECTION: usize = 4 << 2;
const SHORTENS: usize = 5 << 2;
const WHOLE_PX: usize = 6 << 2;
const PART_DOSE: usize = 7 << 2;

const NONE: i32 = -1;
const VISIT: f64 = -1;
const LEAST_GAIN: f64 = -1e-9;

// @ts-ignore: decorator
@inline
function int(address: usize): i32 {
  return load<i32>(address);
}

// @ts-ignore: decorator
@inline
function pointer(address: usize): usize {
  return <usize>load<u32>(address);
}

// @ts-ignore: decorator
@inline
function lineOf(state: usize, y: i32): usize {
  return (int(state + FIRST_ROW) + y) & 1 ? state + ODD_LINES : state + EVEN_LINES;
}

// @ts-ignore: decorator
@inline
function burstReachTo(line: usize, side: i32): i32 {
  return int(line + HAS_BURSTS) !== 0 && int(line + DIRECTION) === side ? int(line + WHOLE_PX) + 1 : 0;
}

// @ts-ignore: decorator
@inline
function burstReach(line: usize): i32 {
  return int(line + HAS_BURSTS) !== 0 ? int(line + WHOLE_PX) + 1 : 0;
}

function addMark(dose: usize, length: i32, to: usize, part: f64): void {
  for (let i: usize = 0; i < (<usize>length) << 3; i += 8) {
    store<f64>(to + i, load<f64>(to + i) + part * load<f64>(dose + i));
  }
}

/** Levels at which a pixel burns as a whole (low byte) and in part (next byte). */
function splitPixel(line: usize, row: usize, columns: i32, x: i32): i32 {
  const direction = int(line + DIRECTION);
  const shortens = int(line + SHORTENS);
  const wholePx = int(line + WHOLE_PX);
  let run = 0;
  let at = x;
  for (; run <= wholePx + 1 && at >= 0 && at < columns; at -= direction, run++) {
    if (<i32>(load<u8>(row + <usize>at) !== 0) !== shortens) break;
  }
  const level = shortens
    ? <i32>load<u8>(row + <usize>x)
    : at >= 0 && at < columns
      ? <i32>load<u8>(row + <usize>at)
      : 0;
  const whole = shortens ? run > wholePx + 1 : run <= wholePx;
  return (whole ? level : 0) | (run === wholePx + 1 ? level << 8 : 0);
}

function addPixelChange(state: usize, line: usize, row: usize, x: i32, step: i32, out: usize, left: i32): void {
  const samples = int(state + SAMPLES_ALONG);
  const columns = int(state + COLUMNS);
  const full = <f64>(int(state + LEVELS) - 1);
  const before = int(line + BEFORE);
  const length = (before + 1 + int(line + AFTER_PX)) * samples;
  const dose = pointer(line + LINE_DOSE);
  if (int(line + HAS_BURSTS) === 0) {
    addMark(dose, length, out + (<usize>((x - before - left) * samples) << 3), <f64>step / full);
    return;
  }
  const direction = int(line + DIRECTION);
  const end = int(line + WHOLE_PX) + 1;
  const partDose = pointer(line + PART_DOSE);
  const place = row + <usize>x;
  for (let sign = -1; sign <= 1; sign += 2) {
    if (sign === 1) store<u8>(place, <u8>(<i32>load<u8>(place) + step));
    for (let n = 0; n <= end; n++) {
      const pixel = x + n * direction;
      if (pixel < 0 || pixel >= columns) break;
      const split = splitPixel(line, row, columns, pixel);
      const to = out + (<usize>((pixel - before - left) * samples) << 3);
      const whole = split & 255;
      const part = split >> 8;
      if (whole > 0) addMark(dose, length, to, <f64>(sign * whole) / full);
      if (part > 0) addMark(partDose, length, to, <f64>(sign * part) / full);
    }
  }
  store<u8>(place, <u8>(<i32>load<u8>(place) - step));
}

function placeChange(state: usize, x: i32, y: i32, step: i32, otherX: i32, otherY: i32): void {
  const isSwap = otherX !== NONE;
  const line = lineOf(state, y);
  const other = isSwap ? lineOf(state, otherY) : line;
  let left = x - int(line + BEFORE) - burstReachTo(line, -1);
  let right = x + int(line + AFTER_PX) + burstReachTo(line, 1);
  if (isSwap) {
    left = min(left, otherX - int(other + BEFORE) - burstReachTo(other, -1));
    right = max(right, otherX + int(other + AFTER_PX) + burstReachTo(other, 1));
  }
  const box = pointer(state + BOX);
  store<i32>(box, left);
  store<i32>(box, right, 4);
  store<i32>(box, (isSwap ? min(y, otherY) : y) - int(state + ACROSS_BEFORE), 8);
  store<i32>(box, (isSwap ? max(y, otherY) : y) + int(state + ACROSS_AFTER), 12);
  store<i32>(box, y, 16);
  store<i32>(box, isSwap && otherY !== y ? otherY : NONE, 20);
  const firstDose = pointer(state + FIRST_DOSE);
  const secondDose = pointer(state + SECOND_DOSE);
  const used = (<usize>((right - left + 1) * int(state + SAMPLES_ALONG))) << 3;
  memory.fill(firstDose, 0, used);
  memory.fill(secondDose, 0, used);
  const codes = pointer(state + CODES);
  const columns = int(state + COLUMNS);
  const row = codes + <usize>(y * columns);
  addPixelChange(state, line, row, x, step, firstDose, left);
  if (!isSwap) return;
  const same = otherY === y;
  const place = row + <usize>x;
  if (same) store<u8>(place, <u8>(<i32>load<u8>(place) + step));
  const otherRow = codes + <usize>(otherY * columns);
  addPixelChange(state, other, otherRow, otherX, -step, same ? firstDose : secondDose, left);
  if (same) store<u8>(place, <u8>(<i32>load<u8>(place) - step));
}

function shareLines(state: usize, v: i32): void {
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

/** See `keepChange`. */
export function keepSearchChange(state: usize, x: i32, y: i32, step: i32, otherX: i32, otherY: i32): void {
  trySearchChange(state, x, y, step, otherX, otherY);
  keepDose(state);
  const codes = pointer(state + CODES);
  const columns = int(state + COLUMNS);
  const place = codes + <usize>(y * columns + x);
  store<u8>(place, <u8>(<i32>load<u8>(place) + step));
  if (otherX !== NONE) {
    const other = codes + <usize>(otherY * columns + otherX);
    store<u8>(other, <u8>(<i32>load<u8>(other) - step));
  }
  keepLuminance(state);
  for (let k = 0; k < int(state + CASES); k++) {
    actOn(state, k);
    pullNear(state, k);
    pullFar(state, k);
  }
  visitAround(state);
}

function keepDose(state: usize): void {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const samplesAlong = int(state + SAMPLES_ALONG);
  const samplesAcross = int(state + SAMPLES_ACROSS);
  const width = int(state + COLUMNS) * samplesAlong;
  const bytes = (<usize>((load<i32>(box, 4) - left + 1) * samplesAlong)) << 3;
  const shares = pointer(state + SHARES);
  const firstDose = pointer(state + FIRST_DOSE);
  const secondDose = pointer(state + SECOND_DOSE);
  for (let v = load<i32>(box, 8); v <= load<i32>(box, 12); v++) {
    shareLines(state, v);
    for (let j = 0; j < samplesAcross; j++) {
      const at = pointer(state + DOSE) + (<usize>((v * samplesAcross + j) * width + left * samplesAlong) << 3);
      const first = load<f64>(shares + ((<usize>j) << 4));
      const second = load<f64>(shares + ((<usize>j) << 4), 8);
      for (let i: usize = 0; i < bytes; i += 8) {
        const by = first * load<f64>(firstDose + i) + second * load<f64>(secondDose + i);
        store<f64>(at + i, load<f64>(at + i) + by);
      }
    }
  }
}

function keepLuminance(state: usize): void {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const columns = int(state + COLUMNS);
  const bytes = (<usize>(load<i32>(box, 4) - left + 1)) << 3;
  const plane = (<usize>(columns * int(state + ROWS))) << 3;
  for (let k = 0; k < int(state + CASES); k++) {
    let from = pointer(state + AFTER) + <usize>(k * int(state + BOX_LENGTH)) * 8;
    const to = pointer(state + LUMINANCE) + <usize>k * plane;
    for (let v = load<i32>(box, 8); v <= load<i32>(box, 12); v++, from += bytes) {
      memory.copy(to + ((<usize>(v * columns + left)) << 3), from, bytes);
    }
  }
}

function actOn(state: usize, k: i32): void {
  const box = pointer(state + BOX);
  const cases = int(state + CASES);
  const width = load<i32>(box, 4) - load<i32>(box, 0) + 1;
  const height = load<i32>(box, 12) - load<i32>(box, 8) + 1;
  const bytes = (<usize>(width * height)) << 3;
  const boxSeen = pointer(state + BOX_SEEN);
  memory.fill(boxSeen, 0, bytes);
  for (let j = 0; j < cases; j++) {
    const together = load<f64>(pointer(state + COUPLING) + ((<usize>(k * cases + j)) << 3));
    if (together === 0) continue;
    const change = pointer(state + CHANGE) + <usize>(j * int(state + BOX_LENGTH)) * 8;
    for (let at: usize = 0; at < bytes; at += 8) {
      store<f64>(boxSeen + at, load<f64>(boxSeen + at) + together * load<f64>(change + at));
    }
  }
}

function pullNear(state: usize, k: i32): void {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const right = load<i32>(box, 4);
  const top = load<i32>(box, 8);
  const bottom = load<i32>(box, 12);
  const columns = int(state + COLUMNS);
  const rows = int(state + ROWS);
  const exactPx = int(state + EXACT_PX);
  const reachAlong = int(state + EYE_ALONG);
  const reachAcross = int(state + EYE_ACROSS);
  const seen = pointer(state + SEEN);
  const weight = pointer(state + WEIGHT);
  const pull = pointer(state + PULL) + ((<usize>(k * columns * rows)) << 3);
  const boxSeen = pointer(state + BOX_SEEN);
  const fromX = max(0, left - exactPx);
  const toX = min(columns - 1, right + exactPx);
  const fromY = max(0, top - exactPx);
  const toY = min(rows - 1, bottom + exactPx);
  for (let y = fromY; y <= toY; y++) {
    let at = boxSeen;
    const row = (<usize>(y * columns)) << 3;
    for (let v = top; v <= bottom; v++) {
      const down = abs(y - v);
      if (down > reachAcross) {
        at += (<usize>(right - left + 1)) << 3;
        continue;
      }
      const line = seen + ((<usize>(down * (reachAlong + 1))) << 3);
      for (let u = left; u <= right; u++, at += 8) {
        const by = load<f64>(at);
        const first = max(fromX, u - reachAlong);
        const last = min(toX, u + reachAlong);
        for (let x = first; x <= last; x++) {
          const pixel = row + ((<usize>x) << 3);
          const here = by * load<f64>(line + ((<usize>abs(x - u)) << 3));
          store<f64>(pull + pixel, load<f64>(pull + pixel) + load<f64>(weight + pixel) * here);
        }
      }
    }
  }
}

function pullFar(state: usize, k: i32): void {
  const box = pointer(state + BOX);
  const left = load<i32>(box, 0);
  const right = load<i32>(box, 4);
  const top = load<i32>(box, 8);
  const bottom = load<i32>(box, 12);
  const exactPx = int(state + EXACT_PX);
  const reachAlong = int(state + EYE_ALONG);
  const reachAcross = int(state + EYE_ACROSS);
  const centreX = (left + right) >> 1;
  const centreY = (top + bottom) >> 1;
  let sum: f64 = 0;
  let momentX: f64 = 0;
  let momentY: f64 = 0;
  let at = pointer(state + BOX_SEEN);
  for (let v = top; v <= bottom; v++) {
    for (let u = left; u <= right; u++, at += 8) {
      const by = load<f64>(at);
      sum += by;
      momentX += by * <f64>(u - centreX);
      momentY += by * <f64>(v - centreY);
    }
  }
  const fromX = max(0, centreX - reachAlong);
  const toX = min(int(state + COLUMNS) - 1, centreX + reachAlong);
  const fromY = max(0, centreY - reachAcross);
  const toY = min(int(state + ROWS) - 1, centreY + reachAcross);
  for (let y = fromY; y <= toY; y++) {
    const down = y - centreY;
    const byY = down < 0 ? -momentY : momentY;
    if (y < top - exactPx || y > bottom + exactPx) {
      pullRow(state, k, centreX, y, abs(down), sum, momentX, byY, fromX, toX);
      continue;
    }
    pullRow(state, k, centreX, y, abs(down), sum, momentX, byY, fromX, min(toX, left - exactPx - 1));
    pullRow(state, k, centreX, y, abs(down), sum, momentX, byY, max(fromX, right + exactPx + 1), toX);
  }
}

function pullRow(
  state: usize,
  k: i32,
  centreX: i32,
  y: i32,
  down: i32,
  sum: f64,
  momentX: f64,
  byY: f64,
  first: i32,
  last: i32,
): void {
  const columns = int(state + COLUMNS);
  const line = (<usize>(down * (int(state + EYE_ALONG) + 1))) << 3;
  const seen = pointer(state + SEEN) + line;
  const seenRight = pointer(state + SEEN_RIGHT) + line;
  const seenDown = pointer(state + SEEN_DOWN) + line;
  const row = (<usize>(y * columns)) << 3;
  const weight = pointer(state + WEIGHT) + row;
  const pull = pointer(state + PULL) + ((<usize>(k * columns * int(state + ROWS))) << 3) + row;
  for (let x = first; x <= last; x++) {
    const right = x - centreX;
    const at = (<usize>abs(right)) << 3;
    const byX = right < 0 ? -momentX : momentX;
    const here = sum * load<f64>(seen + at) + byX * load<f64>(seenRight + at) + byY * load<f64>(seenDown + at);
    const pixel = (<usize>x) << 3;
    store<f64>(pull + pixel, load<f64>(pull + pixel) + load<f64>(weight + pixel) * here);
  }
}

function visitAround(state: usize): void {
  const box = pointer(state + BOX);
  const columns = int(state + COLUMNS);
  const even = state + EVEN_LINES;
  const odd = state + ODD_LINES;
  const before = max(int(even + AFTER_PX) + burstReach(even), int(odd + AFTER_PX) + burstReach(odd));
  const after = max(int(even + BEFORE) + burstReach(even), int(odd + BEFORE) + burstReach(odd));
  const fromX = max(0, load<i32>(box, 0) - before - 1);
  const toX = min(columns - 1, load<i32>(box, 4) + after + 1);
  const fromY = max(0, load<i32>(box, 8) - int(state + ACROSS_AFTER) - 1);
  const toY = min(int(state + ROWS) - 1, load<i32>(box, 12) + int(state + ACROSS_BEFORE) + 1);
  for (let y = fromY; y <= toY; y++) {
    const row = pointer(state + SLACK) + ((<usize>(y * columns)) << 3);
    for (let x = fromX; x <= toX; x++) store<f64>(row + ((<usize>x) << 3), VISIT);
  }
}

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
