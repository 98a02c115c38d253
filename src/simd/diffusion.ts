import { packedPair } from "./bits";

/*
 * Error diffusion with any stencil, row by row. Only the shares of the next pixels along the scan need a loop over single pixels.
 * The shares of the rows below follow later, eight pixels at once.
 *
 * A row of 16-bit numbers is given by the address of column 0. It has 16 more numbers on either side.
 */

/** Columns on either side of a row that hold error before it is folded back. */
const SIDE = 8;
const HALF: i32 = 8192;
const SEVEN_SIXTEENTHS: i32 = 7168;

/* Where a plan keeps its numbers, in bytes; all are 16-bit. Weights are in 32768ths, those along the scan in 16384ths. */
const BELOW_WEIGHTS: usize = 0; // three rows of 8: columns −3..3 in the direction of x
const OTHER_WEIGHTS: usize = 48; // 8 distinct weights of all shares except the rest
const OTHER_COUNTS: usize = 64; // count of each weight
const AHEAD: usize = 80; // to the next pixel
const SECOND_AHEAD: usize = 82; // to the pixel after the next
const ROWS_BELOW: usize = 84;
const REACH: usize = 86; // columns to either side, 1..3
const OTHERS: usize = 88; // number of other weights
const REST_COLUMN: usize = 90; // column of the tap that takes the rest
const REST_ROW: usize = 92;
const MAX_AT_SIDES: usize = 94; // limit of received error at the sides

/**
 * Halftones one row.
 *
 * @param plan see above
 * @param fractions [columns] i16
 * @param packed [⌈columns / 8⌉] u8, with a byte to spare
 * @param backward 1 for a row scanned from the right
 * @param work a row for wanted values
 * @param errors a row with sides of 0
 * @param received error from the rows above; afterwards error for the row `rowsBelow` further down
 * @param below1 error for the next row; below2 and below3 follow. The last row of the plan is `received`
 */
export function diffuseRow(
  plan: usize,
  fractions: usize,
  packed: usize,
  columns: i32,
  backward: i32,
  work: usize,
  errors: usize,
  received: usize,
  below1: usize,
  below2: usize,
  below3: usize,
): void {
  const last = (<usize>(columns - 1)) << 1;
  const maxAtSides = <i32>load<i16>(plan, MAX_AT_SIDES);
  const tooMuchFirst = excess(<i32>load<i16>(received), maxAtSides);
  const tooMuchLast = columns > 1 ? excess(<i32>load<i16>(received + last), maxAtSides) : 0;
  takeReceived(fractions, received, work, columns);
  store<i16>(work, <i32>load<i16>(work) - tooMuchFirst);
  store<i16>(work + last, <i32>load<i16>(work + last) - tooMuchLast);

  const ahead = <i32>load<i16>(plan, AHEAD);
  const secondAhead = <i32>load<i16>(plan, SECOND_AHEAD);
  const start = work + (backward ? last : 0);
  const step: isize = backward ? -2 : 2;
  if (secondAhead !== 0) scanTwo(start, step, columns, ahead, secondAhead);
  else if (ahead === SEVEN_SIXTEENTHS) scanSevenSixteenths(start, step, columns);
  else scanOne(start, step, columns, ahead);

  const restRow = load<i16>(plan, REST_ROW);
  const restTo = restRow === 1 ? below1 : restRow === 2 ? below2 : below3;
  settle(
    plan,
    fractions,
    packed,
    columns,
    work,
    errors,
    restTo + ((<isize>load<i16>(plan, REST_COLUMN)) << 1),
  );

  const rowsBelow = load<i16>(plan, ROWS_BELOW);
  const reach = load<i16>(plan, REACH);
  spread(plan + BELOW_WEIGHTS, reach, errors, below1, columns);
  if (rowsBelow > 1) spread(plan + BELOW_WEIGHTS + 16, reach, errors, below2, columns);
  if (rowsBelow > 2) spread(plan + BELOW_WEIGHTS + 32, reach, errors, below3, columns);

  // Error that the last pixels would pass along the row goes below the last pixel.
  const end: usize = backward ? 0 : last;
  const beforeEnd: usize = backward ? 2 : last - 2;
  let over = share(<i32>load<i16>(errors + end), ahead) + share(<i32>load<i16>(errors + end), secondAhead);
  if (columns > 1) over += share(<i32>load<i16>(errors + beforeEnd), secondAhead);
  foldSides(below1, last, backward ? over : 0, backward ? 0 : over);
  if (rowsBelow > 1) foldSides(below2, last, 0, 0);
  if (rowsBelow > 2) foldSides(below3, last, 0, 0);
}

function share(error: i32, weight: i32): i32 {
  return (error * weight + 8192) >> 14;
}

/** Excess of received error over the limit of a side pixel. */
function excess(error: i32, maxAtSides: i32): i32 {
  return error - min(max(error, -maxAtSides), maxAtSides);
}

/** work = fractions + received, and 0 after the end of the row; received = 0. */
function takeReceived(fractions: usize, received: usize, work: usize, columns: i32): void {
  const zero = i16x8.splat(0);
  const end = work + ((<usize>columns) << 1);
  for (; work < end; fractions += 16, received += 16, work += 16) {
    v128.store(work, i16x8.add(i16x8.max_s(v128.load(fractions), zero), v128.load(received)));
    v128.store(received, zero);
  }
  v128.store(end, zero);
  v128.store(end, zero, 16);
}

/*
 * Along the scan, each value receives the error of the pixels behind. A burn subtracts 16384 from the error, and so exactly the
 * weight from its share. So the share and the decision are computed in parallel.
 */

function scanOne(at: usize, step: isize, columns: i32, ahead: i32): void {
  let value = 0;
  let burned = 0;
  for (let n = 0; n < columns; n++, at += step) {
    value = <i32>load<i16>(at) - (burned & ahead) + ((value * ahead + 8192) >> 14);
    store<i16>(at, value);
    burned = (HALF - 1 - value) >> 31;
  }
}

/** The same with a weight of 7/16, for Floyd and Steinberg. */
function scanSevenSixteenths(at: usize, step: isize, columns: i32): void {
  let value = 0;
  let burned = 0;
  for (let n = 0; n < columns; n++, at += step) {
    value = <i32>load<i16>(at) - (burned & SEVEN_SIXTEENTHS) + (((value << 3) - (value - 8)) >> 4);
    store<i16>(at, value);
    burned = (HALF - 1 - value) >> 31;
  }
}

function scanTwo(at: usize, step: isize, columns: i32, ahead: i32, secondAhead: i32): void {
  let value = 0;
  let burned = 0;
  let fromSecond = 0;
  for (let n = 0; n < columns; n++, at += step) {
    const toSecond = ((value * secondAhead + 8192) >> 14) - (burned & secondAhead);
    value = <i32>load<i16>(at) + fromSecond - (burned & ahead) + ((value * ahead + 8192) >> 14);
    store<i16>(at, value);
    burned = (HALF - 1 - value) >> 31;
    fromSecond = toSecond;
  }
}

/** Decides every pixel: bits, errors, and the rest of the errors for the last tap. */
function settle(
  plan: usize,
  fractions: usize,
  packed: usize,
  columns: i32,
  work: usize,
  errors: usize,
  restTo: usize,
): void {
  const others = <i32>load<i16>(plan, OTHERS);
  const one = i16x8.splat(16384);
  const threshold = i16x8.splat(8191);
  for (const end = work + ((<usize>columns) << 1); work < end; work += 32, fractions += 32) {
    const burned0 = i16x8.gt_s(v128.load(work), threshold);
    const burned1 = i16x8.gt_s(v128.load(work, 16), threshold);
    const error0 = i16x8.sub(v128.load(work), v128.and(burned0, one));
    const error1 = i16x8.sub(v128.load(work, 16), v128.and(burned1, one));
    v128.store(errors, error0);
    v128.store(errors, error1, 16);
    let rest0 = error0;
    let rest1 = error1;
    for (let k: usize = 0; k < <usize>others; k++) {
      const weight = v128.load16_splat(plan + (k << 1), OTHER_WEIGHTS);
      const count = v128.load16_splat(plan + (k << 1), OTHER_COUNTS);
      rest0 = i16x8.sub(rest0, i16x8.mul(count, i16x8.q15mulr_sat_s(error0, weight)));
      rest1 = i16x8.sub(rest1, i16x8.mul(count, i16x8.q15mulr_sat_s(error1, weight)));
    }
    v128.store(restTo, i16x8.add(v128.load(restTo), rest0));
    v128.store(restTo, i16x8.add(v128.load(restTo, 16), rest1), 16);
    const bare0 = i16x8.shr_s(v128.load(fractions), 15);
    const bare1 = i16x8.shr_s(v128.load(fractions, 16), 15);
    store<u16>(packed, packedPair(v128.andnot(burned0, bare0), v128.andnot(burned1, bare1)));
    errors += 32;
    restTo += 32;
    packed += 2;
  }
}

/** Adds the shares of seven taps to one row below, with its margins. */
function spread(weights: usize, reach: i16, errors: usize, below: usize, columns: i32): void {
  const w1 = v128.load16_splat(weights, 4);
  const w2 = v128.load16_splat(weights, 6);
  const w3 = v128.load16_splat(weights, 8);
  let at = errors - 2 * SIDE;
  let to = below - 2 * SIDE;
  const end = errors + ((<usize>(columns + SIDE)) << 1);
  if (reach === 1) {
    for (; at < end; at += 16, to += 16) v128.store(to, i16x8.add(v128.load(to), middleTaps(at, w1, w2, w3)));
    return;
  }
  const w0 = v128.load16_splat(weights, 2);
  const w4 = v128.load16_splat(weights, 10);
  if (reach === 2) {
    for (; at < end; at += 16, to += 16) {
      const outer = i16x8.add(tap(at + 4, w0), tap(at - 4, w4));
      v128.store(to, i16x8.add(i16x8.add(v128.load(to), outer), middleTaps(at, w1, w2, w3)));
    }
    return;
  }
  const wFirst = v128.load16_splat(weights, 0);
  const wLast = v128.load16_splat(weights, 12);
  for (; at < end; at += 16, to += 16) {
    const outer = i16x8.add(tap(at + 4, w0), tap(at - 4, w4));
    const outermost = i16x8.add(tap(at + 6, wFirst), tap(at - 6, wLast));
    const sum = i16x8.add(i16x8.add(outer, outermost), middleTaps(at, w1, w2, w3));
    v128.store(to, i16x8.add(v128.load(to), sum));
  }
}

function tap(at: usize, weight: v128): v128 {
  return i16x8.q15mulr_sat_s(v128.load(at), weight);
}

function middleTaps(at: usize, left: v128, middle: v128, right: v128): v128 {
  return i16x8.add(i16x8.add(tap(at + 2, left), tap(at, middle)), tap(at - 2, right));
}

/**
 * Adds the error beside the picture to the side pixels, plus a given amount. It stores whole vectors: the next loop loads these and
 * would have to wait for single stores.
 */
function foldSides(row: usize, last: usize, toFirst: i32, toLast: i32): void {
  const left = <i32>load<i16>(row - 2) + <i32>load<i16>(row - 4) + <i32>load<i16>(row - 6);
  const right = <i32>load<i16>(row + last, 2) + <i32>load<i16>(row + last, 4) + <i32>load<i16>(row + last, 6);
  const lanes = i16x8(0, 1, 2, 3, 4, 5, 6, 7);
  v128.store(row - 16, i16x8.splat(0));
  addWhere(row, i16x8.eq(lanes, i16x8.splat(0)), toFirst + left);
  const lastLane = i16x8.splat(<i16>((last >> 1) & 7));
  const lastVector = row + (last & ~15);
  addWhere(lastVector, i16x8.eq(lanes, lastLane), toLast + right);
  v128.store(lastVector, v128.and(v128.load(lastVector), i16x8.le_s(lanes, lastLane)));
  v128.store(lastVector, i16x8.splat(0), 16);
}

function addWhere(at: usize, mask: v128, error: i32): void {
  v128.store(at, i16x8.add(v128.load(at), v128.and(mask, i16x8.splat(<i16>error))));
}
