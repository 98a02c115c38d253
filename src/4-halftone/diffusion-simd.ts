import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { type BandLoop, isBackward } from "./band.js";
import type { DiffusionPlan } from "./diffusion-plan.js";
import type { Scan } from "./method.js";

/** Numbers on either side of a row that the vector form uses: see `src/simd/diffusion.ts`. */
const SIDE = 16;

/** Rows that `src/simd/floyd-steinberg.ts` does at once, and the columns that its slanted block needs. */
const SLANTED_ROWS = 8;
const LEAST_SLANTED_COLUMNS = 32;

/** @param isFloydSteinberg whether the plan is that of their stencil, whose raster scan goes eight rows at a time */
export function simdDiffusion(
  plan: DiffusionPlan,
  isFloydSteinberg: boolean,
  columns: number,
  scan: Scan,
  memory: KernelMemory,
  simd: SimdKernels,
): BandLoop {
  const row = () => memory.int16(SIDE + columns + SIDE);
  const columnZero = (values: Int16Array) => values.byteOffset + 2 * SIDE;
  const forward = packPlan(plan, 1, memory).byteOffset;
  const mirrored = packPlan(plan, -1, memory).byteOffset;
  const work = columnZero(row());
  const errors = columnZero(row());
  const rowsBelow = plan.below.length;
  /** Error for the rows to come, row n from the start in n % rowsBelow. */
  const received = plan.below.map(row);
  /** For each turn the addresses of the rows 0 to 3 below: the row at hand, and those that its error goes to. */
  const turns = received.map((_, turn) =>
    [0, 1, 2, 3].map((dy) => columnZero(received[(turn + dy) % rowsBelow])),
  );
  let turn = 0;

  function runRow(fractions: number, packed: number, backward: boolean): void {
    const [own, below1, below2, below3] = turns[turn];
    simd.diffuseRow(
      backward ? mirrored : forward,
      fractions,
      packed,
      columns,
      backward ? 1 : 0,
      work,
      errors,
      own,
      below1,
      below2,
      below3,
    );
    turn = turn + 1 < rowsBelow ? turn + 1 : 0;
  }

  const slanted = isFloydSteinberg && scan === "raster" && columns >= LEAST_SLANTED_COLUMNS;
  const between = memory.int16(slanted ? (SLANTED_ROWS - 1) * columns : 0).byteOffset;
  const room = memory.int16(64).byteOffset;
  const bytes = bytesPerPackedRow(columns);

  return {
    run: (fractions, packed, y, rows) => {
      const fractionsAt = (n: number) => fractions.byteOffset + 2 * n * columns;
      const packedAt = (n: number) => packed.byteOffset + n * bytes;
      let n = 0;
      for (; slanted && n + SLANTED_ROWS <= rows; n += SLANTED_ROWS) {
        simd.floydSteinbergRows(fractionsAt(n), packedAt(n), columns, turns[0][0], between, room);
      }
      for (; n < rows; n++) runRow(fractionsAt(n), packedAt(n), isBackward(scan, y + n));
    },
    restart: () => {
      turn = 0;
      for (const values of received) values.fill(0);
    },
  };
}

/** The plan as `src/simd/diffusion.ts` reads it, seen in the direction of x. */
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
  packed.set([plan.ahead, plan.secondAhead, plan.below.length, plan.reach, counts.size, step * dx, dy], 40);
  return packed;
}
