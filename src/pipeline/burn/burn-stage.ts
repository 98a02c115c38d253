import type { Frame } from "../../3-resample/frame.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { createHalftoneStream } from "../../4-halftone/halftone-stream.js";
import type { RunTime } from "../../5-burn/run-time.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { ByteSink } from "../../6-report/files/deflate.js";
import { type Chart, chartHtml } from "../../6-report/pages/chart.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { PiecePictures } from "../describe/piece-pictures.js";
import { piecePictures } from "../describe/render-preview.js";
import { type BurnModel, createBurnModel, halftoneSettings } from "../job.js";
import { measureCurve } from "./burn-curve.js";
import { createBurnedBands } from "./burned-bands.js";
import { createBitmapOutput, textureOf } from "./write-bitmap.js";

/** Pixels handed over at a time: few enough for the second-level cache, and for memory that does not grow with the bed. */
const BAND_PX = 1 << 18;
const MOST_BAND_ROWS = 64;

/** Rows of burn fractions handed over at a time; an even number. */
export const bandRowsFor = (columns: number): number =>
  2 * Math.max(1, Math.min(MOST_BAND_ROWS / 2, Math.round(BAND_PX / 2 / columns)));

/** What is known of a bitmap once its last row has come. */
export interface BurnedPiece {
  readonly burnedPx: number;
  /** The burned pixels in pixels at full power. */
  readonly fullPowerPx: number;
  readonly runTime: RunTime;
  /** Only where it was to be kept. */
  readonly bitmap: PackedBitmap | undefined;
}

/**
 * The half of a job that begins with burn fractions: halftone, bitmap file, run time, and what follows from the bitmap. It
 * may run on a thread of its own, beside the half that begins with the photo; the bytes are the same either way.
 */
export interface BurnStage {
  /** The tone curve of a halftone method of this job. */
  readonly measureCurve: (methodId: string) => Promise<ToneCurve>;
  /** Begin a bitmap; its file goes to the sink. */
  readonly begin: (methodId: string, frame: Frame, keep: boolean, sink: ByteSink) => Promise<void>;
  /** Room for the next band of burn fractions [bandRowsFor(columns) × columns], in reach of the caller's kernels. */
  readonly room: () => Promise<Int16Array>;
  /** The room holds the next `count` rows. */
  readonly band: (count: number) => Promise<void>;
  readonly end: () => Promise<BurnedPiece>;
  /** The preview of the bitmap that has ended, and with `forPage` what a page shows of it. */
  readonly pictures: (forPage: boolean) => Promise<PiecePictures>;
  /** A chart as HTML. No business of burning, but this half is idle at the end, and the chart library takes its time. */
  readonly draw: (chart: Chart) => Promise<string>;
  readonly close: () => void;
}

/** @param memory shared with whoever else works on this thread */
export function createBurnStage(options: ResolvedOptions, memory: KernelMemory): BurnStage {
  let model: BurnModel | undefined;
  const modelOf = (): BurnModel => (model ??= createBurnModel(options, memory));
  let piece: Awaited<ReturnType<typeof beginPiece>> | undefined;

  async function beginPiece(methodId: string, frame: Frame, keep: boolean, sink: ByteSink) {
    const method = findHalftoneMethod(methodId);
    const release = memory.mark();
    const output = await createBitmapOutput(frame, method, options, keep, sink);
    const settings = halftoneSettings(options, modelOf);
    const { columns, rows } = frame;
    // A band comes out as a whole, but the first may bring the rows of the lead-in with it, and the last the delayed ones.
    const bandRows = bandRowsFor(columns);
    const { stride, timer, emit } = createBurnedBands(frame, options, (packed, _, count) => {
      const end = (ready.rows + count) * stride;
      if (end > ready.packed.length) ready.packed = enlarged(ready.packed, 2 * end);
      ready.packed.set(packed, ready.rows * stride);
      ready.rows += count;
    });
    const ready = { packed: new Uint8Array(2 * bandRows * stride), rows: 0 };
    const stream = createHalftoneStream(method, { columns, rows, bandRows }, settings, emit, memory);
    return { frame, method, output, timer, ready, stream, release };
  }
  const begun = () => {
    if (!piece) throw new Error("No bitmap has been begun.");
    return piece;
  };

  return {
    async measureCurve(methodId) {
      return measureCurve(memory, modelOf(), findHalftoneMethod(methodId), options);
    },
    async begin(methodId, frame, keep, sink) {
      piece = await beginPiece(methodId, frame, keep, sink);
    },
    async room() {
      return begun().stream.fractions;
    },
    async band(count) {
      const { stream, ready, output } = begun();
      stream.push(count);
      const { rows } = ready;
      ready.rows = 0;
      if (rows > 0) await output.write(ready.packed, rows);
    },
    async end() {
      const { output, timer, release } = begun();
      await output.end();
      release();
      return {
        burnedPx: timer.burnedPx(),
        fullPowerPx: timer.fullPowerPx(),
        runTime: timer.runTime(),
        bitmap: output.bitmap(),
      };
    },
    async pictures(forPage) {
      const { frame, method, output } = begun();
      const bitmap = output.bitmap();
      if (!bitmap) throw new Error("The bitmap was not kept.");
      const texture = forPage ? textureOf(method) : undefined;
      return piecePictures(memory, modelOf(), bitmap, frame, options, texture);
    },
    draw: chartHtml,
    close() {},
  };
}

function enlarged(bytes: Uint8Array, length: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(length);
  larger.set(bytes);
  return larger;
}
