import type { Decoder, Reading } from "./decoder.js";

/** A file and how to decode it. */
export interface PhotoSource {
  readonly decoder: Decoder;
  readonly bytes: Uint8Array;
  /** For messages. */
  readonly name: string;
  readonly reading: Reading;
}
