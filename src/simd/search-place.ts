import {
  ACROSS_AFTER,
  ACROSS_BEFORE,
  AFTER_PX,
  BEFORE,
  BOX,
  CODES,
  COLUMNS,
  DIRECTION,
  FIRST_DOSE,
  HAS_BURSTS,
  LEVELS,
  LINE_DOSE,
  NONE,
  PART_DOSE,
  SAMPLES_ALONG,
  SECOND_DOSE,
  SHORTENS,
  WHOLE_PX,
  int,
  lineOf,
  pointer,
} from "./search-fields";

/* What a change does to the doses along its lines: `src/4-search/line-change.ts`, and the first of `change-kernels.ts`. */

// @ts-ignore: decorator
@inline
function burstReachTo(line: usize, side: i32): i32 {
  return int(line + HAS_BURSTS) !== 0 && int(line + DIRECTION) === side ? int(line + WHOLE_PX) + 1 : 0;
}

// @ts-ignore: decorator
@inline
export function burstReach(line: usize): i32 {
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

export function placeChange(state: usize, x: i32, y: i32, step: i32, otherX: i32, otherY: i32): void {
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
