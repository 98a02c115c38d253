import type { PackedBitmap } from "../../core/packed-bits.js";
import type { Pitch } from "../../core/plane.js";
import { levelGreys } from "../../core/power-levels.js";
import { pixelsPerMetreFromPitchMm } from "../../core/units.js";
import { checkShape } from "./bitmap-shape.js";

const FILE_HEADER_BYTES = 14;
const INFO_HEADER_BYTES = 40;
const COLOUR_BYTES = 4;

/**
 * A BMP without compression, with 1 bit per pixel at 2 power levels and 8 bits at more. Black is full power. Both densities are in
 * whole pixels per metre.
 * Throws `INTERNAL` if the bitmap has no pixels.
 * Microsoft, Win32 API reference (wingdi.h): BITMAPFILEHEADER, BITMAPINFOHEADER.
 */
export function encodeBitmapBmp(bitmap: PackedBitmap, pitch: Pitch): Uint8Array {
  const { columns, rows, levels, bytes } = bitmap;
  const bits = levels === 2 ? 1 : 8;
  const colours = 2 ** bits;
  const pixelsAt = FILE_HEADER_BYTES + INFO_HEADER_BYTES + colours * COLOUR_BYTES;
  checkShape({ columns, rows });
  const stride = Math.ceil(bitmap.stride / 4) * 4;
  const greys = levelGreys(levels);
  const lastByte = 0xff00 >> (((columns - 1) % 8) + 1);
  const file = Buffer.alloc(pixelsAt + rows * stride); // zeros: no compression, reserved fields, ends of the rows
  file.write("BM", 0, "latin1");
  file.writeUInt32LE(file.length, 2);
  file.writeUInt32LE(pixelsAt, 10);
  file.writeUInt32LE(INFO_HEADER_BYTES, 14);
  file.writeInt32LE(columns, 18);
  file.writeInt32LE(rows, 22); // positive: the bottom row comes first
  file.writeUInt16LE(1, 26); // planes
  file.writeUInt16LE(bits, 28); // bits per pixel
  file.writeUInt32LE(rows * stride, 34);
  file.writeInt32LE(pixelsPerMetreFromPitchMm(pitch.alongMm), 38);
  file.writeInt32LE(pixelsPerMetreFromPitchMm(pitch.acrossMm), 42);
  file.writeUInt32LE(colours, 46); // in the palette: from black to white
  for (let grey = 0; grey < colours; grey++) {
    file.writeUInt32LE(((255 * grey) / (colours - 1)) * 0x010101, 54 + COLOUR_BYTES * grey);
  }
  for (let y = 0; y < rows; y++) {
    let to = pixelsAt + (rows - 1 - y) * stride;
    if (levels > 2) {
      for (let from = y * bitmap.stride; from < (y + 1) * bitmap.stride; ) file[to++] = greys[bytes[from++]];
      continue;
    }
    for (let from = y * bitmap.stride; from < (y + 1) * bitmap.stride; ) file[to++] = ~bytes[from++];
    file[to - 1] &= lastByte;
  }
  return file;
}
