import { packBitmap, unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, plane } from "../core/plane.js";
import { aimOf } from "../pipeline/burn/choose-method.js";
import { createJob } from "../pipeline/job.js";
import { searchPiece } from "../pipeline/search/search-piece.js";
import type { ToneMapOptions } from "./compensate.js";
import { BEAM, type BeamOptions, numberOption, resolveJob, SURFACE, type SurfaceOptions } from "./job.js";
import { bitmapOf, checkSameSize, LUMINANCE, outputFor, type Picture, readPicture } from "./picture.js";
import { codeRows } from "./rows.js";

/** Options of `searchBitmap`. */
export interface SearchBitmapOptions extends BeamOptions, SurfaceOptions, ToneMapOptions {
  /** The error to lower: at the settings, or on a machine that varies. Default: `robust` on a steep material. */
  readonly aim?: "nominal" | "robust" | undefined;
  /** Stop after this time, 1 to 86400 s, at the last whole pass. Default: no limit. */
  readonly searchSeconds?: number | undefined;
  /** Viewing distance, 50 to 10000 mm. Default 300. */
  readonly viewDistanceMm?: number | undefined;
  /** Maximum number of threads; the bitmap is the same with any. Default: as many as the computer runs at once. */
  readonly threads?: number | undefined;
  /** [rows × columns] Array for the result. */
  readonly out?: Uint8Array | undefined;
}

/**
 * Search on from a bitmap: change pixels, alone or with a neighbour, as long as the seen error between the predicted piece and the
 * wanted one falls (M. Analoui, J. P. Allebach, "Model-based halftoning using direct binary search", 1992; here with the burn in the
 * loop). It first arranges the dots anew, as seen from near, so the result of an earlier search may come back slightly worse. 15 to
 * 100 seconds per megapixel.
 *
 * @param bitmap [rows, columns] power levels, for example of `halftone`; not modified
 * @param luminance [rows, columns] linear, 0..1, of the same shape; not modified
 * @returns a bitmap of the same shape
 * @throws SpotpitchError `OPTION_*`, `INPUT_MATERIAL_INVALID`
 */
export async function searchBitmap(
  bitmap: Picture<"bitmap", Uint8Array>,
  luminance: Picture<"luminance">,
  options: SearchBitmapOptions,
): Promise<Bitmap> {
  const source = readPicture("bitmap", bitmap, bitmapOf(options));
  const wanted = readPicture("luminance", luminance, LUMINANCE);
  checkSameSize(["bitmap", "luminance"], source, wanted);
  const { columns, rows } = source;
  const takes = [...BEAM, ...SURFACE, "toneMap", "aim", "searchSeconds", "viewDistanceMm", "threads", "out"];
  const job = resolveJob(options, takes, source.pitch ?? wanted.pitch);
  const threads = options.threads && numberOption("threads", options.threads, 1, 256);
  const out = outputFor(options.out, columns * rows, Uint8Array, [source]);
  const work = createJob(job);
  const packed = packBitmap(Uint8Array.from(source.data), columns, rows, job.levels);
  const size = { widthMm: columns * job.pitch.alongMm, heightMm: rows * job.pitch.acrossMm };
  await searchPiece(
    work,
    { size, codes: codeRows(work.memory, wanted), bitmap: packed },
    { aim: aimOf(job), seconds: job.searchSeconds, threads, onProgress: () => {} },
  );
  out.set(unpackBitmap(packed));
  return plane("bitmap", out, rows, columns, job.pitch);
}
