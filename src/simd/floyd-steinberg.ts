import { clearBare } from "./bits";
import { transpose8 } from "./transpose";

/*
 * Floyd and Steinberg's diffusion in raster order, eight rows at once. Each row is done two pixels behind the one above, so that
 * all that flows into its pixel is known: at step s lane r holds column s − 2r of row r. The bits are those of `diffuseRow`.
 *
 *     ·   ●   7
 *     3   5   1   over 16
 *
 * The slanted ends of the rows are done pixel by pixel: columns 0..15 − 2r on the left, what whole blocks leave on the right.
 */

const ROWS: usize = 8;
/** The step at which all lanes are within their rows. */
const FIRST_STEP: usize = 16;
const MOST_AT_SIDES: i32 = 9216;

/**
 * Halftone eight rows.
 *
 * @param fractions [8 × columns] i16
 * @param packed [8 × ⌈columns / 8⌉] u8
 * @param columns 32 or more
 * @param received [columns] i16 error from the row above the first; that for the row below the last afterwards
 * @param between [7 × columns] i16 of zeros, and zeros again afterwards: error between the rows near their ends
 * @param room for 64 numbers of 16 bits
 */
export function floydSteinbergRows(
  fractions: usize,
  packed: usize,
  columns: i32,
  received: usize,
  between: usize,
  room: usize,
): void {
  const stride = <usize>(columns + 7) >> 3;
  for (let r: usize = 0; r < ROWS; r++) {
    store<u16>(packed + r * stride, 0);
    pixels(r, fractions, packed, stride, columns, received, between, 0, <i32>(FIRST_STEP - 2 * r));
  }
  const end = slantedBlock(fractions, packed, stride, columns, received, between, room);
  for (let r: usize = 0; r < ROWS; r++) {
    pixels(r, fractions, packed, stride, columns, received, between, end - 2 * <i32>r, columns);
  }
  clearBare(fractions, packed, columns, <i32>ROWS);
}

/** Received error of row r of 0..8: the first and the last share a row, the one taking the place of the other. */
function rowOfError(r: usize, rowBytes: usize, received: usize, between: usize): usize {
  return (r & 7) === 0 ? received : between + (r - 1) * rowBytes;
}

/** Columns `from`..`to` of row r, one after the other. Bits are added to bytes that hold 0 for them. */
function pixels(
  r: usize,
  fractions: usize,
  packed: usize,
  stride: usize,
  columns: i32,
  received: usize,
  between: usize,
  from: i32,
  to: i32,
): void {
  const rowBytes = (<usize>columns) << 1;
  const own = rowOfError(r, rowBytes, received, between);
  const below = rowOfError(r + 1, rowBytes, received, between);
  const last = columns - 1;
  let ahead = 0;
  for (let x = from; x < to; x++) {
    const at = (<usize>x) << 1;
    let error = <i32>load<i16>(own + at);
    store<i16>(own + at, 0);
    const isSide = x === 0 || x === last;
    if (isSide) error = min(max(error, -MOST_AT_SIDES), MOST_AT_SIDES);
    const value = max(<i32>load<i16>(fractions + r * rowBytes + at), 0) + error + ahead;
    const burned = (8191 - value) >> 31;
    const byte = packed + r * stride + (<usize>x >> 3);
    store<u8>(byte, <i32>load<u8>(byte) | ((burned & 128) >> (x & 7)));
    error = value - (burned & 16384);
    ahead = (7 * error + 8) >> 4;
    const behind = (3 * error + 8) >> 4;
    const front = (error + 8) >> 4;
    add(below + at, error - ahead - behind - front);
    add(x === 0 ? below : below + at - 2, behind);
    add(x === last ? below + at : below + at + 2, front);
  }
  if (to > last) add(below + ((<usize>last) << 1), ahead);
  else add(own + ((<usize>to) << 1), ahead);
}

function add(at: usize, error: i32): void {
  store<i16>(at, <i32>load<i16>(at) + error);
}

/** Whole blocks of eight steps, from column 16 − 2r of row r. Returns the column at which row 0 goes on, row r 2r before it. */
function slantedBlock(
  fractions: usize,
  packed: usize,
  stride: usize,
  columns: i32,
  received: usize,
  between: usize,
  room: usize,
): i32 {
  const rowBytes = (<usize>columns) << 1;

  // Take over from the left ends: error for the next pixel of each row, and for the pixels below it and below the one before.
  for (let r: usize = 1; r <= ROWS; r++) {
    const next = rowOfError(r, rowBytes, received, between) + ((FIRST_STEP - 2 * r) << 1);
    if (r < ROWS) store<i16>(room + (r << 1), load<i16>(next));
    store<i16>(room + ((r - 1) << 1), load<i16>(next, 2), 16);
    store<i16>(room + ((r - 1) << 1), load<i16>(next, 4), 32);
    if (r < ROWS) {
      store<i32>(next, 0);
      store<i16>(next, 0, 4);
    }
  }
  store<i16>(room, 0);
  let above = v128.load(room);
  let below = v128.load(room, 16);
  let belowNext = v128.load(room, 32);
  // Rows but every fourth start within a byte.
  for (let r: usize = 0; r < ROWS; r++) {
    const x = FIRST_STEP - 2 * r;
    store<i16>(room + (r << 1), <i32>load<u8>(packed + r * stride + (x >> 3)) >> (8 - (<i32>x & 7)));
  }
  let bits = v128.load(room);

  const zero = i16x8.splat(0);
  const threshold = i16x8.splat(8191);
  const whole = i16x8.splat(16384);
  const seven = i16x8.splat(14336);
  const three = i16x8.splat(6144);
  const one = i16x8.splat(2048);
  /** Lifts the bits of a lane's latest whole byte into its upper half. */
  const toByte = i16x8(256, 4, 16, 64, 256, 4, 16, 64);
  const up = rowBytes - 4;
  let ahead = zero;
  let column = <i32>FIRST_STEP;
  let done = received + 2;
  for (; column + 8 <= columns - 2; column += 8) {
    const from = fractions + ((<usize>column) << 1);
    transpose8(
      i16x8.add(i16x8.max_s(v128.load(from), zero), v128.load(received + ((<usize>column) << 1))),
      i16x8.max_s(v128.load(from + up), zero),
      i16x8.max_s(v128.load(from + 2 * up), zero),
      i16x8.max_s(v128.load(from + 3 * up), zero),
      i16x8.max_s(v128.load(from + 4 * up), zero),
      i16x8.max_s(v128.load(from + 5 * up), zero),
      i16x8.max_s(v128.load(from + 6 * up), zero),
      i16x8.max_s(v128.load(from + 7 * up), zero),
      room,
    );
    for (let step: usize = 0; step < 128; step += 16) {
      const value = i16x8.add(i16x8.add(v128.load(room + step), ahead), above);
      const burned = i16x8.gt_s(value, threshold);
      const error = i16x8.sub(value, v128.and(burned, whole));
      bits = i16x8.sub(i16x8.shl(bits, 1), burned);
      ahead = i16x8.q15mulr_sat_s(error, seven);
      const behind = i16x8.q15mulr_sat_s(error, three);
      const front = i16x8.q15mulr_sat_s(error, one);
      const finished = i16x8.add(below, behind);
      v128.store_lane<i16>(done, finished, 7);
      done += 2;
      above = i16x8.shuffle(zero, finished, 0, 8, 9, 10, 11, 12, 13, 14);
      below = i16x8.sub(i16x8.sub(i16x8.sub(i16x8.add(belowNext, error), ahead), behind), front);
      belowNext = front;
    }
    const bytes = i16x8.mul(bits, toByte);
    const to = packed + (<usize>column >> 3);
    store<u8>(to, <u8>(i16x8.extract_lane_u(bytes, 0) >> 8));
    store<u8>(to + stride - 1, <u8>(i16x8.extract_lane_u(bytes, 1) >> 8));
    store<u8>(to + 2 * stride - 1, <u8>(i16x8.extract_lane_u(bytes, 2) >> 8));
    store<u8>(to + 3 * stride - 1, <u8>(i16x8.extract_lane_u(bytes, 3) >> 8));
    store<u8>(to + 4 * stride - 1, <u8>(i16x8.extract_lane_u(bytes, 4) >> 8));
    store<u8>(to + 5 * stride - 2, <u8>(i16x8.extract_lane_u(bytes, 5) >> 8));
    store<u8>(to + 6 * stride - 2, <u8>(i16x8.extract_lane_u(bytes, 6) >> 8));
    store<u8>(to + 7 * stride - 2, <u8>(i16x8.extract_lane_u(bytes, 7) >> 8));
  }

  // Hand over to the right ends.
  v128.store(room, i16x8.add(above, ahead));
  v128.store(room, below, 16);
  v128.store(room, belowNext, 32);
  v128.store(room, bits, 48);
  const lastDone = received + ((<usize>(column - 14)) << 1);
  for (let at = lastDone + 2; at < received + ((<usize>column) << 1); at += 2) store<i16>(at, 0);
  add(received + ((<usize>column) << 1), <i32>load<i16>(room));
  for (let r: usize = 1; r <= ROWS; r++) {
    const next = rowOfError(r, rowBytes, received, between) + ((<usize>column - 2 * r) << 1);
    if (r < ROWS) store<i16>(next, load<i16>(room + (r << 1)));
    store<i16>(next, load<i16>(room + ((r - 1) << 1), 16), 2);
    store<i16>(next, load<i16>(room + ((r - 1) << 1), 32), 4);
  }
  for (let r: usize = 0; r < ROWS; r++) {
    const x = <usize>column - 2 * r;
    const count = <i32>x & 7;
    let to = packed + r * stride + (x >> 3);
    store<u8>(to, ((<i32>load<i16>(room + (r << 1), 48)) << (8 - count)) & 255);
    for (const end = packed + (r + 1) * stride; ++to < end; ) store<u8>(to, 0);
  }
  return column;
}
