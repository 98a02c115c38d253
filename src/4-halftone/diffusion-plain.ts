import { bytesPerRow } from "../core/packed-bits.js";
import { isBackward } from "./band.js";
import { BELOW_REACH, type DiffusionPlan } from "./diffusion-plan.js";
import { levelCodes, nearestLevel } from "./levels.js";
import type { Scan } from "./method.js";
import { type TurningLoop, turnRow } from "./ring.js";
import { keptAtSides, type SideRule } from "./side-error.js";

/** Column 0 in a row of received error: margins on both sides catch what would leave the picture. */
const FIRST = BELOW_REACH;

/** The plain form of `src/simd/diffusion.ts`, which knows 2 levels alone. */
export function plainDiffusion(
  plan: DiffusionPlan,
  columns: number,
  scan: Scan,
  levels = 2,
  sides: SideRule = keptAtSides(levels),
): TurningLoop {
  const last = columns - 1;
  const bytes = bytesPerRow(columns, levels);
  const decideRow = levels === 2 ? scanRow : levelScan(levels);
  const rowsBelow = plan.below.length;
  /** Error for the rows to come, row n from the start in n % rowsBelow. */
  const received = plan.below.map(() => new Int16Array(FIRST + columns + BELOW_REACH));
  const errors = new Int16Array(columns);
  /** What is left of the errors for the tap that takes the rest. */
  const rests = new Int16Array(columns);
  let turn = 0;

  function runRow(fractions: Int16Array, from: number, packed: Uint8Array, to: number, backward: boolean) {
    const own = received[turn % rowsBelow];
    sides.hold(own, FIRST, FIRST + last);
    const [over, overSecond] = decideRow(plan, fractions, from, own, packed, to, backward, errors, rests);
    own.fill(0);
    turn++;
    const step = backward ? -1 : 1;
    plan.below.forEach((weights, row) => {
      const target = received[(turn + row) % rowsBelow];
      weights.forEach((weight, k) => {
        if (weight > 0) handDown(errors, weight, rests, target, FIRST + step * (k - BELOW_REACH));
      });
    });
    if (plan.dropped > 0) drop(errors, plan.dropped, rests);
    addRow(rests, received[(turn + plan.rest.dy - 1) % rowsBelow], FIRST + step * plan.rest.dx);
    const end = FIRST + (backward ? 0 : last) + step;
    received[turn % rowsBelow][end] += over;
    received[turn % rowsBelow][end + step] += overSecond;
    for (const row of received) sides.fold(row, FIRST, FIRST + last);
  }

  return {
    run: (fractions, packed, y, rows) => {
      packed.fill(0, 0, rows * bytes);
      for (let row = 0; row < rows; row++) {
        runRow(fractions, row * columns, packed, row * bytes, isBackward(scan, y + row));
      }
    },
    restart: () => {
      turn = 0;
      for (const row of received) row.fill(0);
    },
    turn: (by) => {
      for (const row of received) turnRow(row, FIRST, columns, by);
    },
  };
}

/** Decide each pixel of a row in turn and hand on error along it. Returns what the next two would get. */
function scanRow(
  { ahead, secondAhead }: DiffusionPlan,
  fractions: Int16Array,
  from: number,
  received: Int16Array,
  packed: Uint8Array,
  to: number,
  backward: boolean,
  errors: Int16Array,
  rests: Int16Array,
): readonly [forNext: number, forSecond: number] {
  const columns = errors.length;
  const step = backward ? -1 : 1;
  let forNext = 0;
  let forSecond = 0;
  for (let n = 0, x = backward ? columns - 1 : 0; n < columns; n++, x += step) {
    const fraction = fractions[from + x];
    const bare = fraction >> 31;
    const wanted = (fraction & ~bare) + received[FIRST + x] + forNext;
    const burned = (8191 - wanted) >> 31;
    const error = wanted - (burned & 16384);
    packed[to + (x >> 3)] |= (burned & ~bare & 128) >> (x & 7);
    const toNext = (error * ahead + 8192) >> 14;
    const toSecond = (error * secondAhead + 8192) >> 14;
    errors[x] = error;
    rests[x] = error - toNext - toSecond;
    forNext = forSecond + toNext;
    forSecond = toSecond;
  }
  return [forNext, forSecond];
}

/** The same with more than two levels: `packed` takes the level of each pixel. */
function levelScan(levels: number): typeof scanRow {
  const codes = levelCodes(levels);
  const steps = levels - 1;
  return ({ ahead, secondAhead }, fractions, from, received, rowOut, to, backward, errors, rests) => {
    const columns = errors.length;
    const step = backward ? -1 : 1;
    let forNext = 0;
    let forSecond = 0;
    for (let n = 0, x = backward ? columns - 1 : 0; n < columns; n++, x += step) {
      const fraction = fractions[from + x];
      const bare = fraction >> 31;
      const wanted = (fraction & ~bare) + received[FIRST + x] + forNext;
      const level = nearestLevel(wanted, steps);
      const error = wanted - codes[level];
      rowOut[to + x] = level & ~bare;
      const toNext = (error * ahead + 8192) >> 14;
      const toSecond = (error * secondAhead + 8192) >> 14;
      errors[x] = error;
      rests[x] = error - toNext - toSecond;
      forNext = forSecond + toNext;
      forSecond = toSecond;
    }
    return [forNext, forSecond];
  };
}

/** Hand a share of each error to the row below, `at` being where column 0 hands it. */
function handDown(
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
