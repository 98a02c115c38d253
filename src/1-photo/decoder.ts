import type { Sharp, SharpOptions } from "sharp";
import { refusal } from "../core/refusals/refusals.js";
import { DRAWING_DENSITY } from "./drawing/drawing-size.js";

export interface Decoder {
  (input: Uint8Array | Uint16Array, options?: SharpOptions): Sharp;
  concurrency(threads: number): number;
  cache(kept: boolean): unknown;
  readonly versions: { readonly vips: string };
}

/**
 * Decoder options for every file. Level "error" was chosen by trial: it refuses truncated files and broken TIFF and PNG data,
 * but accepts the unusual headers and stray bytes that cameras write. Level "warning" refuses those too. The decoder's
 * limit on pixels is off, because its error does not state the declared size.
 */
export const reading = { failOn: "error", limitInputPixels: false, density: DRAWING_DENSITY } as const;

/** Decoder options for one file. */
export type Reading = typeof reading & Pick<SharpOptions, "unlimited">;

/** Loaded on first use, because loading it takes longer than the rest of the start of the command. */
export async function loadDecoder(): Promise<Decoder> {
  try {
    return (await import("sharp")).default;
  } catch (cause) {
    throw refusal("decoder-missing", {}, { cause });
  }
}

/** Another release may decode the same file to other pixels. */
export const decoderRelease = async (): Promise<string> => `libvips ${(await loadDecoder()).versions.vips}`;

/**
 * Lets the decoder forget what it has read. Otherwise it keeps it for a second use: of a drawing, the whole tree. It applies to the
 * whole process too.
 */
export async function keepNothingDecoded(): Promise<void> {
  const decoder = await loadDecoder();
  decoder.cache(false);
}

/**
 * Sets the number of decoder threads. Two threads decode a photograph in half the time of one, the default on some systems. The
 * setting applies to the whole process, so only programs call this, not libraries.
 */
export async function useDecoderThreads(threads: number): Promise<void> {
  const decoder = await loadDecoder();
  decoder.concurrency(threads);
}
