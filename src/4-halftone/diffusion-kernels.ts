import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import { bytesPerRow } from "../core/packed-bits.js";
import type { BandRow } from "./band.js";
import { BELOW_REACH, type DiffusionPlan } from "./diffusion-plan.js";
import { levelCodes, nearestLevel } from "./levels.js";
import { goesRound, keptAtSides, MAX_AT_SIDES, type SideRule } from "./side-error.js";

/** Spare numbers on either side of a row of received error: for error that leaves the picture, and for whole vectors. */
export const SIDE = 16;

/** A picture's diffusion between two rows. */
export interface DiffusionState {
  readonly plan: DiffusionPlan;
  readonly columns: number;
  readonly sides: SideRule;
  /** Burn fractions of the power levels. */
  readonly codes: Int16Array;
  /** Error for the next rows: row n, counted from the start, is at n % length. Column 0 is at `SIDE`. */
  readonly received: readonly Int16Array[];
  /** [columns] Errors of the current row, with `SIDE` spare numbers on either side. */
  readonly errors: Int16Array;
  /** [columns] Wanted values; later the rest of each error, for the tap that takes the rest. */
  readonly work: Int16Array;
  /** Error of the last two pixels of the row for the pixels after them. */
  forNext: number;
  forSecond: number;
  /** Index in `received` of the next row. */
  turn: number;
  /** For the vector form, which supports only two levels and flat pictures. */
  readonly vector: VectorRows | undefined;
}

interface VectorRows {
  readonly simd: SimdKernels;
  /** Addresses of the packed plan, by direction of the scan. */
  readonly forward: number;
  readonly mirrored: number;
  /** [turns] Addresses of the current row and of the three rows below it. */
  readonly turns: readonly (readonly number[])[];
}

/** The picture, for the loops of a diffusion. */
export interface DiffusionShape {
  readonly columns: number;
  readonly levels: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly ring: boolean;
}

export function diffusionState(
  plan: DiffusionPlan,
  { columns, levels, ring }: DiffusionShape,
  memory: KernelMemory,
): DiffusionState {
  const simd = levels === 2 && !ring ? memory.simd : undefined;
  // Plain loops are faster on separate arrays than on the shared memory of the vector form.
  const array = simd ? memory.int16 : (length: number) => new Int16Array(length);
  const row = (): Int16Array => array(SIDE + columns + SIDE);
  const withRoom = (): Int16Array => row().subarray(SIDE, SIDE + columns);
  const received = plan.below.map(row);
  return {
    plan,
    columns,
    sides: ring ? goesRound : keptAtSides(levels),
    codes: levelCodes(levels),
    received,
    errors: withRoom(),
    work: withRoom(),
    forNext: 0,
    forSecond: 0,
    turn: 0,
    vector: simd && vectorRows(simd, plan, received, memory),
  };
}

function vectorRows(
  simd: SimdKernels,
  plan: DiffusionPlan,
  received: readonly Int16Array[],
  memory: KernelMemory,
): VectorRows {
  const columnZero = (n: number): number => received[n % received.length].byteOffset + 2 * SIDE;
  return {
    simd,
    forward: packPlan(plan, 1, memory).byteOffset,
    mirrored: packPlan(plan, -1, memory).byteOffset,
    turns: received.map((_, turn) => [0, 1, 2, 3].map((dy) => columnZero(turn + dy))),
  };
}

/** The plan in the layout of `src/simd/diffusion.ts`, in the direction of x. */
function packPlan(plan: DiffusionPlan, step: 1 | -1, memory: KernelMemory): Int16Array {
  const packed = memory.int16(48);
  plan.below.forEach((weights, row) => {
    const byColumn = step === 1 ? weights : weights.toReversed();
    byColumn.forEach((weight, k) => {
      packed[8 * row + k] = 2 * weight;
    });
  });
  const counts = new Map<number, number>();
  for (const weight of [plan.ahead, plan.secondAhead, plan.dropped, ...plan.below.flat()]) {
    if (weight > 0) counts.set(weight, (counts.get(weight) ?? 0) + 1);
  }
  [...counts].forEach(([weight, count], k) => {
    packed[24 + k] = 2 * weight;
    packed[32 + k] = count;
  });
  const { dx, dy } = plan.rest;
  const along = [plan.ahead, plan.secondAhead];
  packed.set([...along, plan.below.length, plan.reach, counts.size, step * dx, dy, MAX_AT_SIDES], 40);
  return packed;
}

/** Halftone one row. */
export function diffuseRow(state: DiffusionState, row: BandRow): void {
  const { columns, received, vector, turn } = state;
  const rowsBelow = received.length;
  state.turn = turn + 1 < rowsBelow ? turn + 1 : 0;
  if (vector) {
    const { simd, forward, mirrored, turns } = vector;
    const [own, below1, below2, below3] = turns[turn];
    simd.diffuseRow(
      row.backward ? mirrored : forward,
      row.fractions.byteOffset + 2 * row.from,
      row.packed.byteOffset + row.to,
      columns,
      row.backward ? 1 : 0,
      state.work.byteOffset,
      state.errors.byteOffset,
      own,
      below1,
      below2,
      below3,
    );
    return;
  }
  const own = received[turn];
  const end = SIDE + columns - 1;
  state.sides.clamp(own, SIDE, end);
  if (state.codes.length === 2) decideBits(state, row, own);
  else decideLevels(state, row, own);
  own.fill(0);
  const step = row.backward ? -1 : 1;
  handDown(state, step);
  const next = received[state.turn];
  const beyond = row.backward ? SIDE - 1 : end + 1;
  next[beyond] += state.forNext;
  next[beyond + step] += state.forSecond;
  for (const values of received) state.sides.fold(values, SIDE, end);
}

/** Decides the pixels of a row in turn and passes error along the row. */
function decideBits(state: DiffusionState, row: BandRow, received: Int16Array): void {
  const { columns, errors, work } = state;
  const { ahead, secondAhead } = state.plan;
  const { fractions, from, packed, to, backward } = row;
  packed.fill(0, to, to + bytesPerRow(columns, 2));
  const step = backward ? -1 : 1;
  let forNext = 0;
  let forSecond = 0;
  for (let n = 0, x = backward ? columns - 1 : 0; n < columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const wanted = (fraction & ~bare) + received[SIDE + x] + forNext;
    const burned = (8191 - wanted) >> 31;
    const error = wanted - (burned & 16384);
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    const toNext = (error * ahead + 8192) >> 14;
    const toSecond = (error * secondAhead + 8192) >> 14;
    errors[x] = error;
    work[x] = error - toNext - toSecond;
    forNext = forSecond + toNext;
    forSecond = toSecond;
  }
  state.forNext = forNext;
  state.forSecond = forSecond;
}

/** The same with more than two levels: `packed` takes the level of each pixel. */
function decideLevels(state: DiffusionState, row: BandRow, received: Int16Array): void {
  const { columns, errors, work, codes } = state;
  const { ahead, secondAhead } = state.plan;
  const { fractions, from, packed, to, backward } = row;
  const steps = codes.length - 1;
  const step = backward ? -1 : 1;
  let forNext = 0;
  let forSecond = 0;
  for (let n = 0, x = backward ? columns - 1 : 0; n < columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const wanted = (fraction & ~bare) + received[SIDE + x] + forNext;
    const level = nearestLevel(wanted, steps);
    const error = wanted - codes[level];
    packed[to + x] = level & ~bare;
    const toNext = (error * ahead + 8192) >> 14;
    const toSecond = (error * secondAhead + 8192) >> 14;
    errors[x] = error;
    work[x] = error - toNext - toSecond;
    forNext = forSecond + toNext;
    forSecond = toSecond;
  }
  state.forNext = forNext;
  state.forSecond = forSecond;
}

/** Passes the shares of each error to the rows below, and the rest to the tap that takes it. */
function handDown({ plan, received, errors, work, turn }: DiffusionState, step: number): void {
  const rowBelow = (dy: number): Int16Array => received[(turn + dy - 1) % received.length];
  plan.below.forEach((weights, row) => {
    weights.forEach((weight, k) => {
      if (weight > 0) addShares(errors, weight, work, rowBelow(row + 1), SIDE + step * (k - BELOW_REACH));
    });
  });
  if (plan.dropped > 0) drop(errors, plan.dropped, work);
  addRow(work, rowBelow(plan.rest.dy), SIDE + step * plan.rest.dx);
}

/** Adds a share of each error to the row below and subtracts it from the rests. The share of column 0 goes to `at`. */
function addShares(
  errors: Int16Array,
  weight: number,
  rests: Int16Array,
  below: Int16Array,
  at: number,
): void {
  for (let x = 0; x < errors.length; x++) {
    const share = (errors[x] * weight + 8192) >> 14;
    rests[x] -= share;
    below[at + x] += share;
  }
}

function drop(errors: Int16Array, weight: number, rests: Int16Array): void {
  for (let x = 0; x < errors.length; x++) rests[x] -= (errors[x] * weight + 8192) >> 14;
}

function addRow(row: Int16Array, below: Int16Array, at: number): void {
  for (let x = 0; x < row.length; x++) below[at + x] += row[x];
}
