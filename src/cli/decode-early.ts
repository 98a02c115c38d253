import type { Photo } from "../index.js";

/** Threads that decode; more bring nothing. */
const DECODER_THREADS = 2;

/** A drawing (SVG) is decoded at the size that it will have, which only the options tell. */
const startsLikeDrawing = (bytes: Uint8Array): boolean => {
  const start = new TextDecoder().decode(bytes.subarray(0, 64)).replace(/^\uFEFF/, "");
  return start.trimStart().startsWith("<") || bytes[0] === 0x1f;
};

/**
 * Let other threads decode a photo while this one loads the rest of the program and reads the options. Returns once they are
 * at it; undefined where it is better to wait for the options.
 */
export async function beginDecoding(
  reading: Promise<Uint8Array>,
  fileName: string,
): Promise<{ photo: Promise<Photo> } | undefined> {
  const { decodePhoto, useDecoderThreads } = await import("../decoding.js");
  await useDecoderThreads(DECODER_THREADS);
  let bytes: Uint8Array;
  try {
    bytes = await reading;
  } catch {
    return; // told by whoever waits for the file
  }
  if (startsLikeDrawing(bytes)) return;
  return new Promise((resolve) => {
    const photo = decodePhoto(bytes, { fileName, onBegun: () => resolve({ photo }) });
    photo.catch(() => resolve({ photo }));
  });
}
