import type { Frame } from "../../3-resample/frame.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { type EmitRows, HalftoneStream } from "../../4-halftone/halftone-stream.js";
import { type RunTime, RunTimer } from "../../5-burn/run-time.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { ByteSink } from "../../6-report/files/deflate.js";
import { type Chart, chartHtml } from "../../6-report/pages/chart.js";
import { bytesPerRow, type PackedBitmap } from "../../core/packed-bits.js";
import type { PiecePictures } from "../describe/piece-pictures.js";
import { piecePictures } from "../describe/render-preview.js";
import { halftoneSettings, type Job } from "../job.js";
import { burnBorder, edgeRowsOf } from "../photo/picture-outline.js";
import { measureCurve } from "./burn-curve.js";
import { createBitmapOutput, textureOf } from "./write-bitmap.js";

/** Pixels handed over at a time: few enough for the second-level cache, and for memory that does not grow with the bed. */
const BAND_PX = 1 << 18;
const MOST_BAND_ROWS = 64;

/** Rows of burn fractions handed over at a time; an even number. */
export const bandRowsFor = (columns: number): number =>
  2 * Math.max(1, Math.min(MOST_BAND_ROWS / 2, Math.round(BAND_PX / 2 / columns)));

/** A bitmap to burn. */
export interface BitmapRequest {
  readonly methodId: string;
  readonly frame: Frame;
  /** Whether the whole bitmap is wanted at the end. */
  readonly keep: boolean;
  /** Takes its file, where one is wanted. */
  readonly sink?: ByteSink | undefined;
}

/** What is known of a bitmap once its last row has come. */
export interface BurnedBitmap {
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
  readonly begin: (request: BitmapRequest) => Promise<void>;
  /** Room for the next band of burn fractions [bandRowsFor(columns) × columns], in reach of the caller's kernels. */
  readonly room: () => Promise<Int16Array>;
  /** The room holds the next `count` rows. */
  readonly band: (count: number) => Promise<void>;
  readonly end: () => Promise<BurnedBitmap>;
  /** The preview of the bitmap that has ended, and with `forPage` what a page shows of it. */
  readonly pictures: (forPage: boolean) => Promise<PiecePictures>;
  /** A chart as HTML. No business of burning, but this half is idle at the end, and the chart library takes its time. */
  readonly draw: (chart: Chart) => Promise<string>;
  readonly close: () => void;
}

/** On the thread that it is called on, with the job's own memory. */
export function createBurnStage(job: Job): BurnStage {
  let begun: BurningBitmap | undefined;
  const current = (): BurningBitmap => {
    if (!begun) throw new Error("No bitmap has been begun.");
    return begun;
  };
  return {
    async measureCurve(methodId) {
      return measureCurve(job, findHalftoneMethod(methodId));
    },
    async begin(request) {
      begun = await beginBitmap(job, request);
    },
    async room() {
      return current().fractions;
    },
    band: (count) => current().band(count),
    end: () => current().end(),
    async pictures(forPage) {
      const { bitmap, frame, texture } = current();
      const whole = bitmap();
      if (!whole) throw new Error("The bitmap was not kept.");
      return piecePictures(job, whole, frame, forPage ? texture : undefined);
    },
    draw: chartHtml,
    close() {},
  };
}

type BurningBitmap = Awaited<ReturnType<typeof beginBitmap>>;

async function beginBitmap(job: Job, { methodId, frame, keep, sink }: BitmapRequest) {
  const { memory, options } = job;
  const { levels, pitch } = options;
  const { columns, rows } = frame;
  const method = findHalftoneMethod(methodId);
  const release = memory.mark();
  const output = await createBitmapOutput(frame, method, options, { keep, sink });
  const bandRows = bandRowsFor(columns);
  // A band comes out as a whole, but the first may bring the rows of the lead-in with it, and the last the delayed ones.
  const ready = { packed: new Uint8Array(0), rows: 0 };
  const stride = bytesPerRow(columns, levels);
  const timer = new RunTimer(columns, pitch.alongMm, options, levels);
  const edge = options.borderMm === undefined ? undefined : edgeRowsOf(frame, options);
  const emit: EmitRows = (packed, y, count) => {
    if (edge) burnBorder(edge, { bytes: packed, stride, levels }, y, count);
    timer.add(packed, count);
    const end = (ready.rows + count) * stride;
    if (end > ready.packed.length)
      ready.packed = enlarged(ready.packed, 2 * Math.max(end, bandRows * stride));
    ready.packed.set(packed.subarray(0, count * stride), ready.rows * stride);
    ready.rows += count;
  };
  const settings = halftoneSettings(job);
  const stream = new HalftoneStream(method, { columns, rows, bandRows }, settings, emit, memory);
  return {
    frame,
    texture: textureOf(method),
    bitmap: output.bitmap,
    fractions: stream.fractions,
    async band(count: number): Promise<void> {
      stream.push(count);
      const readyRows = ready.rows;
      ready.rows = 0;
      if (readyRows > 0) await output.write(ready.packed, readyRows);
    },
    async end(): Promise<BurnedBitmap> {
      await output.end();
      release();
      return {
        burnedPx: timer.burnedPx(),
        fullPowerPx: timer.fullPowerPx(),
        runTime: timer.runTime(),
        bitmap: output.bitmap(),
      };
    },
  };
}

function enlarged(bytes: Uint8Array, length: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(length);
  larger.set(bytes);
  return larger;
}
