import type { PackedBitmap } from "../core/packed-bits.js";
import type { Pitch } from "../core/plane.js";
import { pixelsPerMetreFromPitchMm } from "../core/units.js";
import { checkShape } from "./bitmap-shape.js";

const FILE_HEADER_BYTES = 14;
const INFO_HEADER_BYTES = 40;
const PALETTE_BYTES = 8;
const PIXELS_AT = FILE_HEADER_BYTES + INFO_HEADER_BYTES + PALETTE_BYTES;

/**
 * A 1-bit BMP without compression, black where burned, that says both densities in whole pixels per metre.
 * Throws `INTERNAL` where the bitmap has no pixels.
 * Microsoft, Win32 API reference (wingdi.h): BITMAPFILEHEADER, BITMAPINFOHEADER.
 */
export function encodeBitmapBmp(bitmap: PackedBitmap, pitch: Pitch): Uint8Array {
  const { columns, rows, bytes } = bitmap;
  checkShape({ columns, rows, pitch });
  const stride = Math.ceil(bitmap.stride / 4) * 4;
  const lastByte = 0xff00 >> (((columns - 1) % 8) + 1);
  const file = Buffer.alloc(PIXELS_AT + rows * stride); // zeros: no compression, reserved fields, ends of the rows
  file.write("BM", 0, "latin1");
  file.writeUInt32LE(file.length, 2);
  file.writeUInt32LE(PIXELS_AT, 10);
  file.writeUInt32LE(INFO_HEADER_BYTES, 14);
  file.writeInt32LE(columns, 18);
  file.writeInt32LE(rows, 22); // positive: the bottom row comes first
  file.writeUInt16LE(1, 26); // planes
  file.writeUInt16LE(1, 28); // bits per pixel
  file.writeUInt32LE(rows * stride, 34);
  file.writeInt32LE(pixelsPerMetreFromPitchMm(pitch.alongMm), 38);
  file.writeInt32LE(pixelsPerMetreFromPitchMm(pitch.acrossMm), 42);
  file.writeUInt32LE(2, 46); // colours in the palette: entry 0 is black, entry 1 white
  file.writeUInt32LE(0x00ffffff, 58);
  for (let y = 0; y < rows; y++) {
    let to = PIXELS_AT + (rows - 1 - y) * stride;
    for (let from = y * bitmap.stride; from < (y + 1) * bitmap.stride; ) file[to++] = ~bytes[from++];
    file[to - 1] &= lastByte;
  }
  return file;
}
