import { createHalftoneStream } from "../4-halftone/halftone-stream.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import type { FractionRows } from "../5-burn/compensate.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { halftoneSettings } from "./job.js";

/** Takes packed rows of the bitmap (1 = burn), in order; the array is used again once the promise is kept. */
export type BitmapSink = (packed: Uint8Array, count: number) => void | Promise<void>;

/** Rows worked on at a time. */
const BAND_ROWS = 64;

/** Burn fractions to bitmap rows, band by band: nothing of the whole piece is held. */
export async function burnPiece(
  memory: KernelMemory,
  method: HalftoneMethod,
  fractions: FractionRows,
  columns: number,
  rows: number,
  options: ResolvedOptions,
  sink: BitmapSink,
): Promise<void> {
  let ready: { readonly packed: Uint8Array; readonly count: number }[] = [];
  const stream = createHalftoneStream(
    method,
    columns,
    rows,
    halftoneSettings(options),
    memory,
    (packed, _y, count) => ready.push({ packed: packed.slice(), count }),
    BAND_ROWS,
  );
  const bandRow = Array.from({ length: stream.bandRows }, (_, k) =>
    stream.fractions.subarray(k * columns, (k + 1) * columns),
  );
  for (let y = 0; y < rows; y += stream.bandRows) {
    const count = Math.min(stream.bandRows, rows - y);
    for (let k = 0; k < count; k++) fractions(y + k, bandRow[k]);
    stream.push(count);
    for (const { packed, count: emitted } of ready) await sink(packed, emitted);
    ready = [];
  }
}
