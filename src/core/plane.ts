import ndarray from "ndarray";
import { refusal } from "./refusals/refusals.js";

/**
 * What the numbers of a plane mean. A stage accepts one kind and says so in its type.
 *
 * - `encoded-luminance`: sRGB-encoded BT.709 luminance, 0..65535 (16-bit codes).
 * - `opacity`: 0..65535, 0 = transparent.
 * - `luminance`: linear luminance of the photo, 0..1.
 * - `luminance-factor`: CIE Y of the engraved surface, 0..1 (wanted or predicted).
 * - `burn-fraction`: share of pixels to burn, 0..1.
 * - `bitmap`: 1 = beam on, 0 = off.
 */
export type ToneSpace =
  | "encoded-luminance"
  | "opacity"
  | "luminance"
  | "luminance-factor"
  | "burn-fraction"
  | "bitmap";

/** The array behind a plane: single precision for tones, 16-bit codes for photos, bytes for bitmaps. */
export type PlaneData = Float32Array | Uint16Array | Uint8Array;

/** Distance between neighbouring pixels, in mm: along the scan line and from line to line. */
export interface Pitch {
  readonly alongMm: number;
  readonly acrossMm: number;
}

/**
 * One channel of a picture: an ndarray of shape [rows, columns], the meaning of its numbers, and, on the engraving grid,
 * the pitch of its pixels.
 */
export interface Plane<Space extends ToneSpace = ToneSpace, Data extends PlaneData = Float32Array> {
  readonly space: Space;
  readonly pixels: ndarray.NdArray<Data>;
  readonly pitch?: Pitch;
}

/** Pixels to burn: [rows, columns], 1 = burn and 0 = not, or power levels 0..levels − 1. */
export type Bitmap = Plane<"bitmap", Uint8Array>;

/** Wrap row-major `data` of `rows` × `columns` as a plane. Throws `INTERNAL` if the length does not fit. */
export function plane<Space extends ToneSpace, Data extends PlaneData>(
  space: Space,
  data: Data,
  rows: number,
  columns: number,
  pitch?: Pitch,
): Plane<Space, Data> {
  if (data.length !== rows * columns) {
    throw refusal("plane-length", { rows, columns, length: data.length });
  }
  const pixels = ndarray(data, [rows, columns]);
  return pitch ? { space, pixels, pitch } : { space, pixels };
}

export const rowsOf = (p: Plane<ToneSpace, PlaneData>): number => p.pixels.shape[0] ?? 0;
export const columnsOf = (p: Plane<ToneSpace, PlaneData>): number => p.pixels.shape[1] ?? 0;

/** A rectangle of a plane, without copying. */
export function partOfPlane<Space extends ToneSpace, Data extends PlaneData>(
  p: Plane<Space, Data>,
  left: number,
  top: number,
  columns: number,
  rows: number,
): Plane<Space, Data> {
  return { ...p, pixels: p.pixels.lo(top, left).hi(rows, columns) };
}

/** Row y of a plane that this library made, or of a rectangle of one: a view. */
export function planeRow<Data extends PlaneData>({ pixels }: Plane<ToneSpace, Data>, y: number): Data {
  const { data, shape, stride, offset } = pixels;
  const at = offset + y * (stride[0] ?? 0);
  return data.subarray(at, at + (shape[1] ?? 0)) as Data;
}

/**
 * The plane's values in row-major order. A plane made by this library is not copied. A view with other strides (a crop, a
 * transpose) is copied, so that later loops can rely on dense rows.
 */
export function denseData<Data extends PlaneData>(p: Plane<ToneSpace, Data>): Data {
  const { data, shape, stride, offset } = p.pixels;
  const [rows = 0, columns = 0] = shape;
  const [rowStride = 0, columnStride = 0] = stride;
  if (offset === 0 && columnStride === 1 && rowStride === columns && data.length === rows * columns)
    return data;
  const dense = emptyLike(data, rows * columns);
  for (let y = 0, i = 0; y < rows; y++) {
    let at = offset + y * rowStride;
    for (let x = 0; x < columns; x++, i++, at += columnStride) dense[i] = data[at];
  }
  return dense;
}

function emptyLike<Data extends PlaneData>(data: Data, length: number): Data {
  if (data instanceof Float32Array) return new Float32Array(length) as Data;
  return (data instanceof Uint16Array ? new Uint16Array(length) : new Uint8Array(length)) as Data;
}
