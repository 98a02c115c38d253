import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerRow } from "../core/packed-bits.js";
import { checkLevels } from "./levels.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";

/**
 * A picture's halftone, rows in and rows out: what a method needs before the first row (its lead-in) and after the last (its
 * delay) is seen to here.
 */
export interface HalftoneStream {
  /** [bandRows × columns] Where the caller writes the next burn fractions; `push` may write over them. */
  readonly fractions: Int16Array;
  readonly bandRows: number;
  /** The first `count` rows of `fractions` are the next rows of the picture. */
  readonly push: (count: number) => void;
  /** Begin again at the first row, as if newly created. */
  readonly restart: () => void;
}

/**
 * @param packed rows of `bytesPerRow(columns, levels)` bytes, the first of which is row y; valid until the call returns
 * @param count 1 or more
 */
export type EmitRows = (packed: Uint8Array, y: number, count: number) => void;

/** A megabyte of fractions at 8000 columns: about what a second-level cache holds. */
const BAND_ROWS = 64;

/**
 * Throws `OPTION_METHOD_LEVELS`.
 *
 * @param rows of the whole picture; no more may be pushed
 * @param emit called in order, every row once, from within `push`
 * @param bandRows most rows to push at a time
 */
export function createHalftoneStream(
  method: HalftoneMethod,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
  memory: KernelMemory,
  emit: EmitRows,
  bandRows = BAND_ROWS,
): HalftoneStream {
  checkLevels(method, settings.levels);
  const band = method.start({ columns, rows, bandRows }, settings, memory);
  const { fractions, packed, delayRows } = band;
  const stride = bytesPerRow(columns, settings.levels);
  /** The picture's first rows, kept until there are enough of them for the lead-in. */
  const openingRows = Math.min(method.leadInRows, rows);
  const opening = new Int16Array(openingRows * columns);
  let seen = 0;

  function run(y: number, count: number): void {
    band.run(y, count);
    const from = Math.max(0, y - delayRows);
    const end = Math.min(rows, y - delayRows + count);
    if (from < end) emit(packed.subarray((from + delayRows - y) * stride), from, end - from);
  }

  function runLeadIn(): void {
    for (let y = -method.leadInRows; y < 0; y += bandRows) {
      const count = Math.min(bandRows, -y);
      for (let row = 0; row < count; row++) {
        const mirrored = Math.min(openingRows - 1, -1 - (y + row)) * columns;
        fractions.set(opening.subarray(mirrored, mirrored + columns), row * columns);
      }
      band.run(y, count);
    }
  }

  function runOpening(): void {
    for (let y = 0; y < openingRows; y += bandRows) {
      const count = Math.min(bandRows, openingRows - y);
      fractions.set(opening.subarray(y * columns, (y + count) * columns));
      run(y, count);
    }
  }

  function push(count: number): void {
    const forOpening = Math.max(0, Math.min(count, openingRows - seen));
    const others = count - forOpening;
    if (forOpening > 0) {
      opening.set(fractions.subarray(0, forOpening * columns), seen * columns);
      seen += forOpening;
      if (seen < openingRows) return;
      const kept = fractions.slice(forOpening * columns, count * columns);
      runLeadIn();
      runOpening();
      fractions.set(kept);
    }
    if (others > 0) run(seen, others);
    seen += others;
    if (seen === rows) drain();
  }

  /** Bring out the rows that are behind. */
  function drain(): void {
    for (let y = rows; y < rows + delayRows; y += bandRows) run(y, Math.min(bandRows, rows + delayRows - y));
  }

  return {
    fractions,
    bandRows,
    push,
    restart: () => {
      seen = 0;
      band.restart();
    },
  };
}
