import type { BegunPhoto } from "../pipeline/decoding.js";

/** Threads that decode. More bring nothing. */
const DECODER_THREADS = 2;

/** First bytes of JPEG and PNG, the formats of phones and screenshots. */
const STARTS = [
  [0xff, 0xd8, 0xff],
  [0x89, 0x50, 0x4e, 0x47],
];

/**
 * Let other threads decode a photo while this one loads the rest of the program and reads the options. Returns as soon as they have
 * started. Undefined for other files, because drawings are decoded at a size that depends on the options.
 */
export async function decodeEarly(
  reading: Promise<Uint8Array>,
  fileName: string,
): Promise<BegunPhoto | undefined> {
  const { beginDecoding, useDecoderThreads } = await import("../pipeline/decoding.js");
  await useDecoderThreads(DECODER_THREADS);
  let bytes: Uint8Array;
  try {
    bytes = await reading;
  } catch {
    return; // reported by the code that waits for the file
  }
  const known = STARTS.some((start) => start.every((byte, i) => bytes[i] === byte));
  return known ? beginDecoding(bytes, { fileName }) : undefined;
}
