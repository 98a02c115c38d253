import { promisify } from "node:util";
import { inflate } from "node:zlib";
import type { BitmapFormat } from "../6-report/files/bitmap-file.js";
import { bytesPerRow, type PackedBitmap, packBitmap } from "../core/packed-bits.js";
import { levelGreys } from "../core/power-levels.js";
import { refusal } from "../core/refusals/refusals.js";

/** What a bitmap file must hold. */
export interface BitmapSize {
  readonly columns: number;
  readonly rows: number;
  readonly levels: number;
}

/**
 * Read a bitmap file as `6-report/files` writes it. A PNG's scan lines and a BMP's rows are nearly the packed form already, so a bitmap
 * of one bit per pixel never takes a byte per pixel. Throws `INTERNAL` if it is another bitmap.
 */
export async function readBitmap(
  file: Uint8Array,
  format: BitmapFormat,
  size: BitmapSize,
): Promise<PackedBitmap> {
  const bytes = Buffer.from(file.buffer, file.byteOffset, file.byteLength);
  switch (format) {
    case "png":
      return fromPng(bytes, size);
    case "bmp":
      return fromBmp(bytes, size);
    case "tiff":
      return fromTiff(bytes, size);
  }
}

const PNG_SIGNATURE_BYTES = 8;
/** Length and type before the data of a chunk, and its CRC after them. */
const CHUNK_EXTRA_BYTES = 12;

/** W3C, Portable Network Graphics (PNG) Specification, third edition, 2025. */
async function fromPng(file: Buffer, size: BitmapSize): Promise<PackedBitmap> {
  const data: Buffer[] = [];
  for (let at = PNG_SIGNATURE_BYTES; at + CHUNK_EXTRA_BYTES <= file.length; ) {
    const length = file.readUInt32BE(at);
    const type = file.toString("latin1", at + 4, at + 8);
    const chunk = file.subarray(at + 8, at + 8 + length);
    if (type === "IHDR") check(size, chunk.readUInt32BE(0), chunk.readUInt32BE(4), chunk.readUInt8(8));
    if (type === "IDAT") data.push(chunk);
    at += CHUNK_EXTRA_BYTES + length;
  }
  const bitmap = emptyBitmap(size);
  const { stride, bytes } = bitmap;
  const lines = await promisify(inflate)(Buffer.concat(data));
  if (lines.length !== size.rows * (stride + 1)) throw otherBitmap(size);
  for (let y = 0; y < size.rows; y++) {
    const from = y * (stride + 1);
    bytes.set(lines.subarray(from + 1, from + 1 + stride), y * stride);
    const filter = lines[from];
    if (filter === 2 && y > 0) addAbove(bytes, y * stride, stride);
    else if (filter !== 0 && filter !== 2) throw otherBitmap(size);
  }
  return withoutGreys(bitmap);
}

/** Filter type 2, "up": each byte counts from the one above. */
function addAbove(bytes: Uint8Array, from: number, stride: number): void {
  for (let i = from; i < from + stride; i++) bytes[i] += bytes[i - stride];
}

/** Microsoft, Win32 API reference (wingdi.h): BITMAPFILEHEADER, BITMAPINFOHEADER. The bottom row comes first. */
function fromBmp(file: Buffer, size: BitmapSize): PackedBitmap {
  check(size, file.readInt32LE(18), file.readInt32LE(22), file.readUInt16LE(28));
  const bitmap = emptyBitmap(size);
  const pixelsAt = file.readUInt32LE(10);
  const fileStride = Math.ceil(bitmap.stride / 4) * 4;
  for (let y = 0; y < size.rows; y++) {
    const from = pixelsAt + (size.rows - 1 - y) * fileStride;
    bitmap.bytes.set(file.subarray(from, from + bitmap.stride), y * bitmap.stride);
  }
  return withoutGreys(bitmap);
}

async function fromTiff(file: Buffer, size: BitmapSize): Promise<PackedBitmap> {
  const { default: sharp } = await import("sharp");
  const picture = sharp(file, { limitInputPixels: false }).toColourspace("b-w").raw();
  const { data, info } = await picture.toBuffer({ resolveWithObject: true });
  if (info.width !== size.columns || info.height !== size.rows || info.channels !== 1)
    throw otherBitmap(size);
  const levelOf = levelByGrey(size.levels);
  for (let i = 0; i < data.length; i++) data[i] = levelOf[data[i]];
  return packBitmap(data, size.columns, size.rows, size.levels);
}

function check(size: BitmapSize, columns: number, rows: number, bits: number): void {
  const isSame = columns === size.columns && rows === size.rows && bits === (size.levels === 2 ? 1 : 8);
  if (!isSame) throw otherBitmap(size);
}

const otherBitmap = ({ columns, rows }: BitmapSize) => refusal("bitmap-rows", { rows, columns });

function emptyBitmap({ columns, rows, levels }: BitmapSize): PackedBitmap {
  const stride = bytesPerRow(columns, levels);
  return { columns, rows, levels, stride, bytes: new Uint8Array(rows * stride) };
}

/** From the greys of a file, black for full power, to power levels. It changes the bitmap that it gets. */
function withoutGreys(bitmap: PackedBitmap): PackedBitmap {
  const { columns, rows, levels, stride, bytes } = bitmap;
  if (levels > 2) {
    const levelOf = levelByGrey(levels);
    for (let i = 0; i < bytes.length; i++) bytes[i] = levelOf[bytes[i]];
    return bitmap;
  }
  for (let i = 0; i < bytes.length; i++) bytes[i] = ~bytes[i];
  const lastByte = 0xff00 >> (((columns - 1) % 8) + 1);
  for (let y = 1; y <= rows; y++) bytes[y * stride - 1] &= lastByte;
  return bitmap;
}

function levelByGrey(levels: number): Uint8Array {
  const levelOf = new Uint8Array(256);
  for (const [level, grey] of levelGreys(levels).entries()) levelOf[grey] = level;
  return levelOf;
}
