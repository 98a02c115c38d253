import type { Frame } from "../../3-resample/frame.js";
import { createRunTimer } from "../../5-burn/run-time.js";
import { bytesPerRow } from "../../core/packed-bits.js";
import type { ResolvedOptions } from "../../options/options.js";
import { burnBorder, edgeRowsOf } from "../photo/picture-outline.js";

/** What every band of a bitmap goes through as it comes from the halftone: its border is burned, its run time counted. */
export function createBurnedBands(
  frame: Frame,
  options: ResolvedOptions,
  take: (packed: Uint8Array, y: number, count: number) => void,
) {
  const { columns } = frame;
  const { levels, pitch, borderMm } = options;
  const stride = bytesPerRow(columns, levels);
  const timer = createRunTimer(columns, pitch.alongMm, options, levels);
  const edge = borderMm === undefined ? undefined : edgeRowsOf(frame, options);
  const emit = (packed: Uint8Array, y: number, count: number): void => {
    if (edge) burnBorder(edge, { bytes: packed, stride, levels }, y, count);
    timer.add(packed, count);
    take(packed.subarray(0, count * stride), y, count);
  };
  return { stride, timer, emit };
}
