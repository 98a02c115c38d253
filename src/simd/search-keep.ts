import { actOn, shareLines, trySearchChange } from "./search-change";
import {
  ACROSS_AFTER,
  ACROSS_BEFORE,
  ACTING,
  AFTER,
  AFTER_PX,
  BEFORE,
  BOX,
  BOX_LENGTH,
  CASES,
  CODES,
  COLUMNS,
  DOSE,
  EVEN_LINES,
  EXACT_PX,
  EYE_ACROSS,
  EYE_ALONG,
  FIRST_DOSE,
  LUMINANCE,
  NONE,
  ODD_LINES,
  PULL,
  ROWS,
  SAMPLES_ACROSS,
  SAMPLES_ALONG,
  SECOND_DOSE,
  SEEN,
  SEEN_DOWN,
  SEEN_RIGHT,
  SHARES,
  SLACK,
  VISIT,
  WEIGHT,
  int,
  pointer,
} from "./search-fields";
import { burstReach } from "./search-place";

/* The loops of `src/4-search/keep-kernels.ts`, in the same order. */

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
  const acting = pointer(state + ACTING);
  const fromX = max(0, left - exactPx);
  const toX = min(columns - 1, right + exactPx);
  const fromY = max(0, top - exactPx);
  const toY = min(rows - 1, bottom + exactPx);
  for (let y = fromY; y <= toY; y++) {
    let at = acting;
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
  let at = pointer(state + ACTING);
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
