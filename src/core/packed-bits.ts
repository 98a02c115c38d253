import type { PixelRectangle } from "./pixel-rectangle.js";

/**
 * A bitmap. With 2 levels it has one bit per pixel: rows of whole bytes, the leftmost pixel in the highest bit, 1 = burn, and 0
 * in the bits past the last column. With more levels it has one byte per pixel, the power level 0..levels − 1.
 */
export interface PackedBitmap {
  readonly columns: number;
  readonly rows: number;
  /** Power levels, 2..256. */
  readonly levels: number;
  /** Bytes from one row to the next: `bytesPerRow(columns, levels)`. */
  readonly stride: number;
  /** [rows × stride] */
  readonly bytes: Uint8Array;
}

/** Bytes of a packed row of `columns` pixels. */
export const bytesPerPackedRow = (columns: number): number => Math.ceil(columns / 8);

/** Bytes of a row of a bitmap: packed with 2 levels, one byte per pixel with more. */
export const bytesPerRow = (columns: number, levels: number): number =>
  levels === 2 ? bytesPerPackedRow(columns) : columns;

/** Row y of a packed bitmap, as a view. */
export const packedRow = ({ bytes, stride }: PackedBitmap, y: number): Uint8Array =>
  bytes.subarray(y * stride, (y + 1) * stride);

/** A bitmap that is read row by row. */
export interface BitmapRows {
  readonly columns: number;
  readonly rows: number;
  /** Row y, as in a `PackedBitmap`. Called once per row, in rising order. */
  readonly row: (y: number) => Uint8Array;
  /** True if the last and the first pixel of a row are neighbours; `columns` is then a multiple of 8. */
  readonly closed?: boolean;
}

/** The rows of a whole bitmap. */
export const rowsOfBitmap = (bitmap: PackedBitmap, closed = false): BitmapRows => ({
  columns: bitmap.columns,
  rows: bitmap.rows,
  row: (y) => packedRow(bitmap, y),
  closed,
});

/** Pack `columns` values 0 or 1 from `bits[from]` into the bytes from `packed[to]`. */
export function packRow(
  bits: Uint8Array,
  from: number,
  columns: number,
  packed: Uint8Array,
  to: number,
): void {
  const wholeEnd = from + columns - (columns % 8);
  let i = from;
  for (; i < wholeEnd; i += 8) {
    packed[to++] =
      (bits[i] << 7) |
      (bits[i + 1] << 6) |
      (bits[i + 2] << 5) |
      (bits[i + 3] << 4) |
      (bits[i + 4] << 3) |
      (bits[i + 5] << 2) |
      (bits[i + 6] << 1) |
      bits[i + 7];
  }
  if (columns % 8 === 0) return;
  let byte = 0;
  for (let mask = 128; i < from + columns; i++, mask >>= 1) if (bits[i] !== 0) byte |= mask;
  packed[to] = byte;
}

/** The reverse: `columns` values 0 or 1 to `bits[to]`, from the bytes from `packed[from]`. */
export function unpackRow(
  packed: Uint8Array,
  from: number,
  columns: number,
  bits: Uint8Array,
  to: number,
): void {
  for (let x = 0; x < columns; x++) bits[to + x] = (packed[from + (x >> 3)] >> (7 - (x & 7))) & 1;
}

/** A bitmap from one byte per pixel; with more than 2 levels the bytes are used as they are. */
export function packBitmap(bits: Uint8Array, columns: number, rows: number, levels = 2): PackedBitmap {
  if (levels > 2) return { columns, rows, levels, stride: columns, bytes: bits };
  const stride = bytesPerPackedRow(columns);
  const bytes = new Uint8Array(rows * stride);
  for (let y = 0; y < rows; y++) packRow(bits, y * columns, columns, bytes, y * stride);
  return { columns, rows, levels, stride, bytes };
}

/** The reverse: always one byte per pixel. */
export function unpackBitmap({ columns, rows, levels, stride, bytes }: PackedBitmap): Uint8Array {
  if (levels > 2) return bytes.slice(0, columns * rows);
  const bits = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) unpackRow(bytes, y * stride, columns, bits, y * columns);
  return bits;
}

/** Power levels of an area of a bitmap, one byte per pixel, row-major. */
export function unpackArea(
  { columns: allColumns, stride, levels, bytes }: PackedBitmap,
  { left, top, columns, rows }: PixelRectangle,
): Uint8Array {
  const area = new Uint8Array(columns * rows);
  const line = new Uint8Array(allColumns);
  for (let y = 0; y < rows; y++) {
    const from = (top + y) * stride;
    if (levels > 2) line.set(bytes.subarray(from, from + allColumns));
    else unpackRow(bytes, from, allColumns, line, 0);
    area.set(line.subarray(left, left + columns), y * columns);
  }
  return area;
}

/** The reverse: write power levels, one byte per pixel, into an area of a bitmap. */
export function packArea(bitmap: PackedBitmap, area: PixelRectangle, codes: Uint8Array): void {
  const { columns, stride, levels, bytes } = bitmap;
  const line = new Uint8Array(columns);
  for (let y = 0; y < area.rows; y++) {
    const from = (area.top + y) * stride;
    const own = codes.subarray(y * area.columns, (y + 1) * area.columns);
    if (levels > 2) {
      bytes.set(own, from + area.left);
      continue;
    }
    unpackRow(bytes, from, columns, line, 0);
    line.set(own, area.left);
    packRow(line, 0, columns, bytes, from);
  }
}

const ONES_IN_BYTE = Uint8Array.from({ length: 256 }, (_, byte) => {
  let ones = 0;
  for (let rest = byte; rest > 0; rest >>= 1) ones += rest & 1;
  return ones;
});

/** Number of burned pixels. */
export function countBurned(packed: Uint8Array): number {
  let ones = 0;
  for (let i = 0; i < packed.length; i++) ones += ONES_IN_BYTE[packed[i]];
  return ones;
}
