/*
 * The chunks of a greyscale PNG.
 * W3C, Portable Network Graphics (PNG) Specification, third edition, 2025; first two editions ISO/IEC 15948.
 */

import type { Pitch } from "../../core/plane.js";
import { pixelsPerMetreFromPitchMm } from "../../core/units.js";
import { crc32 } from "./crc32.js";

export const pngSignature = (): Uint8Array => Uint8Array.of(137, 80, 78, 71, 13, 10, 26, 10);

/** A chunk of any four-letter type, in three pieces: length and type, data, CRC of type and data (section 5.3). */
export function pngChunkPieces(type: string, data: Uint8Array): [Uint8Array, Uint8Array, Uint8Array] {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(data.length, 0);
  head.write(type, 4, "latin1");
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(crc32(data, crc32(head.subarray(4))));
  return [head, data, tail];
}

/** The same in one piece. */
export function pngChunk(type: string, data: Uint8Array = new Uint8Array(0)): Uint8Array {
  return Buffer.concat(pngChunkPieces(type, data));
}

/** IHDR of greyscale without interlacing (section 11.2.1). */
export function pngHeader(columns: number, rows: number, bits: 1 | 8 = 1): Uint8Array {
  const data = Buffer.alloc(13); // colour type 0, compression 0, filter method 0, interlace 0
  data.writeUInt32BE(columns, 0);
  data.writeUInt32BE(rows, 4);
  data.writeUInt8(bits, 8);
  return pngChunk("IHDR", data);
}

/** pHYs: pixels per metre, x along the scan line and y across (section 11.3.4.3). */
export function pngDensity(pitch: Pitch): Uint8Array {
  const data = Buffer.alloc(9);
  data.writeUInt32BE(pixelsPerMetreFromPitchMm(pitch.alongMm), 0);
  data.writeUInt32BE(pixelsPerMetreFromPitchMm(pitch.acrossMm), 4);
  data.writeUInt8(1, 8);
  return pngChunk("pHYs", data);
}
