import type { HalftoneMethod } from "../../4-halftone/method.js";
import { RunTimer } from "../../5-burn/run-time.js";
import type { ByteSink } from "../../6-report/files/deflate.js";
import { type PackedBitmap, packedRow } from "../../core/packed-bits.js";
import type { BurnedBitmap } from "../burn/burn-stage.js";
import { createBitmapOutput } from "../burn/write-bitmap.js";
import type { SettledJob } from "../job.js";
import { luminanceRows } from "../photo/luminance.js";
import { edgeRowsOf } from "../photo/picture-outline.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";
import { roundExposure } from "../photo/round-piece.js";
import { readStart } from "./read-start.js";
import { type SearchOutcome, type SearchWishes, searchPiece } from "./search-piece.js";
import type { SearchAim } from "./search-plan.js";

/** What a search did to a piece. */
export interface SearchedFacts extends SearchOutcome {
  readonly aim: SearchAim;
}

/** A bitmap, and how it came about. */
interface Started {
  readonly picture: PictureOnGrid;
  readonly method: HalftoneMethod;
  /** Changed in place. */
  readonly bitmap: PackedBitmap;
}

/** Searches on from a halftone, and writes the file of the result. */
export async function searchedBitmap(
  job: SettledJob,
  { picture, method, bitmap }: Started,
  wishes: Omit<SearchWishes, "seconds">,
  sink: ByteSink | undefined,
): Promise<{ readonly burned: BurnedBitmap; readonly searched: SearchedFacts; readonly edges: undefined }> {
  const { frame } = picture;
  const { options, memory } = job;
  const release = memory.mark();
  const { widthMm, heightMm, rows, circles } = frame;
  const { doseOfRow } = roundExposure(frame);
  const given = options.startBitmap;
  const start = {
    ...{ size: { widthMm, heightMm }, codes: luminanceRows(job, picture), bitmap },
    edge: edgeRowsOf(frame, options),
    from: given && (await readStart(given, bitmap)),
    fileName: given instanceof Uint8Array ? undefined : given?.fileName,
    rowDoses: circles && Float64Array.from({ length: rows }, (_, y) => doseOfRow(y)),
  };
  const outcome = await searchPiece(job, start, { ...wishes, seconds: options.searchSeconds });
  release();
  const output = await createBitmapOutput(frame, method, options, { keep: false, sink });
  const timer = new RunTimer(frame.columns, options.pitch.alongMm, options, options.levels);
  for (let y = 0; y < frame.rows; y++) {
    const row = packedRow(bitmap, y);
    timer.add(row, 1);
    await output.write(row, 1);
  }
  await output.end();
  const counts = { burnedPx: timer.burnedPx(), fullPowerPx: timer.fullPowerPx(), runTime: timer.runTime() };
  return { burned: { ...counts, bitmap }, searched: { aim: wishes.aim, ...outcome }, edges: undefined };
}
