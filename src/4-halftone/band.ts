import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerRow } from "../core/packed-bits.js";
import type { BandHalftone, BandSize } from "./method.js";

/** A method's loop over rows in one of its forms; see `BandHalftone`. */
export interface BandLoop {
  readonly run: (fractions: Int16Array, packed: Uint8Array, y: number, rows: number) => void;
  readonly restart: () => void;
}

/** A loop with its arrays. */
export function bandHalftone(
  { columns, bandRows }: BandSize,
  memory: KernelMemory,
  loop: BandLoop,
  delayRows = 0,
  levels = 2,
): BandHalftone {
  const fractions = memory.int16(bandRows * columns);
  const packed = memory.uint8(bandRows * bytesPerRow(columns, levels));
  return {
    fractions,
    packed,
    delayRows,
    run: (y, rows) => loop.run(fractions, packed, y, rows),
    restart: loop.restart,
  };
}

/** Whether row y is scanned from the right. */
export const isBackward = (scan: "serpentine" | "raster", y: number): boolean =>
  scan === "serpentine" && (y & 1) === 1;
