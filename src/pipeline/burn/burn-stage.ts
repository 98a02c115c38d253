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

/** Pixels per band: few enough for the second-level cache, and the memory does not grow with the piece. */
const BAND_PX = 1 << 18;
const MAX_BAND_ROWS = 64;

/** Rows of burn fractions per band; an even number. */
export const bandRowsFor = (columns: number): number =>
  2 * Math.max(1, Math.min(MAX_BAND_ROWS / 2, Math.round(BAND_PX / 2 / columns)));

/** A bitmap to burn. */
export interface BitmapRequest {
  readonly methodId: string;
  readonly frame: Frame;
  /** Whether the whole bitmap is kept until the end. */
  readonly keep: boolean;
  /** Receives the file. Without it no file is made. */
  readonly sink?: ByteSink | undefined;
}

/** The facts about a bitmap after its last row. */
export interface BurnedBitmap {
  readonly burnedPx: number;
  /** The burned pixels, counted as pixels at full power. */
  readonly fullPowerPx: number;
  readonly runTime: RunTime;
  /** Undefined if it was not kept. */
  readonly bitmap: PackedBitmap | undefined;
}

/**
 * The half of a job that begins with burn fractions: halftone, bitmap file, run time and pictures. It may run on its own thread,
 * beside the half that begins with the photo. The bytes are the same either way.
 */
export interface BurnStage {
  /** The tone curve of a halftone method of this job. */
  readonly measureCurve: (methodId: string) => Promise<ToneCurve>;
  readonly begin: (request: BitmapRequest) => Promise<void>;
  /** Buffer for the next band of burn fractions [bandRowsFor(columns) × columns]. The caller's kernels can write to it. */
  readonly room: () => Promise<Int16Array>;
  /** Burn the first `count` rows of the buffer. */
  readonly band: (count: number) => Promise<void>;
  readonly end: () => Promise<BurnedBitmap>;
  /** The preview of the finished bitmap, and with `forPage` the pictures of its page. */
  readonly pictures: (forPage: boolean) => Promise<PiecePictures>;
  /** A chart as HTML. It is drawn here because this half is idle at the end, and the chart library is slow. */
  readonly draw: (chart: Chart) => Promise<string>;
  readonly close: () => void;
}

/** A burn stage on the calling thread, with the job's own memory. */
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
  // A band is emitted as a whole. The first may include the rows of the lead-in, and the last the delayed rows.
  const ready = { packed: new Uint8Array(0), rows: 0 };
  const stride = bytesPerRow(columns, levels);
  const timer = new RunTimer(columns, pitch.alongMm, options, levels);
  const hasSolid = options.borderMm !== undefined || options.text !== undefined;
  const edge = hasSolid ? edgeRowsOf(frame, options) : undefined;
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
