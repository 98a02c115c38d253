import { inspect } from "node:util";
import type { NdArray } from "ndarray";
import type { SpotpitchError } from "../core/errors.js";
import { denseData, type Pitch, type Plane, type PlaneData, type ToneSpace } from "../core/plane.js";
import { invalidOption, numberOption } from "./job.js";

/** A picture in a bare array, row after row: `data[y * width + x]`. */
export interface RawPicture<Data extends PlaneData = Float32Array> {
  /** [height × width] */
  readonly data: Data;
  /** Pixels along a row, 1 or more. */
  readonly width: number;
  /** Rows, 1 or more. */
  readonly height: number;
}

/**
 * One channel of a picture as input of a stage: a `Plane`, an ndarray of shape [rows, columns] (any strides), or a bare array with
 * width and height. A stage never writes to it. Only a plane has a pitch.
 */
export type Picture<Space extends ToneSpace = ToneSpace, Data extends PlaneData = Float32Array> =
  | Plane<Space, Data>
  | NdArray<Data>
  | RawPicture<Data>;

/** A checked picture, row after row. */
export interface ReadPicture<Data extends PlaneData> {
  /** [rows × columns] The caller's own array if its rows are dense: never write to it. */
  readonly data: Data;
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch | undefined;
}

/** Requirements for the numbers of a picture. */
export interface PictureKind<Data extends PlaneData> {
  readonly space: ToneSpace;
  readonly array: { new (length: number): Data; readonly name: string };
  /** Limits of its values, both included. */
  readonly min: number;
  readonly max: number;
}

/** Allowance for rounding: single-precision values may exceed 1 by this much. */
export const ROUNDING = 1e-5;

export const ENCODED = kind("encoded-luminance", Uint16Array, 0, 65535);
export const OPACITY = kind("opacity", Uint16Array, 0, 65535);
export const LUMINANCE = kind("luminance", Float32Array, 0, 1);
export const LUMINANCE_FACTOR = kind("luminance-factor", Float32Array, 0, 1);
/** −1 marks a pixel that must not burn. */
export const BURN_FRACTION = kind("burn-fraction", Float32Array, -1, 1);
/** Throws `OPTION_INVALID` for an impossible number of power levels. */
export const bitmapOf = (options: { readonly levels?: number | undefined }) =>
  kind("bitmap", Uint8Array, 0, numberOption("levels", options?.levels ?? 2, 2, 256) - 1);

function kind<Data extends PlaneData>(
  space: ToneSpace,
  array: PictureKind<Data>["array"],
  min: number,
  max: number,
): PictureKind<Data> {
  return { space, array, min, max };
}

/**
 * The values of a picture. Throws `OPTION_INVALID` if it is no picture, has other contents, the wrong number of values for its
 * width and height, or a value out of range.
 *
 * @param name of the argument, for messages
 */
export function readPicture<Data extends PlaneData>(
  name: string,
  picture: Picture<ToneSpace, Data>,
  kindWanted: PictureKind<Data>,
): ReadPicture<Data> {
  const read = unwrapped(name, picture, kindWanted);
  const { data, columns, rows } = read;
  const { array, min, max } = kindWanted;
  if (!(data instanceof array)) throw invalidPicture(name, `its values must be a ${array.name}`);
  for (const [side, length] of Object.entries({ width: columns, height: rows })) {
    if (!Number.isSafeInteger(length) || length < 1) {
      throw invalidPicture(
        name,
        `its ${side} must be a whole number of pixels, 1 or more; got ${inspect(length)}`,
      );
    }
  }
  if (data.length !== columns * rows) {
    const needed = `${columns} × ${rows} pixels need ${columns * rows} values`;
    throw invalidPicture(name, `${needed}, and it has ${data.length}`);
  }
  const slack = array.name === "Float32Array" ? ROUNDING : 0;
  const at = data.findIndex((value) => !(value >= min - slack && value <= max + slack));
  if (at >= 0) {
    const place = `row ${Math.floor(at / columns)}, column ${at % columns}`;
    throw invalidPicture(name, `its values must lie from ${min} to ${max}; at ${place} it has ${data[at]}`);
  }
  return read;
}

function unwrapped<Data extends PlaneData>(
  name: string,
  picture: Picture<ToneSpace, Data>,
  { space }: PictureKind<Data>,
): ReadPicture<Data> {
  if (typeof picture === "object" && picture !== null) {
    if ("space" in picture) {
      if (picture.space === space) return fromNdarray(name, picture.pixels, picture.pitch);
      throw invalidPicture(name, `it must hold ${space}, and this plane holds ${picture.space}`);
    }
    if ("stride" in picture) return fromNdarray(name, picture, undefined);
    if ("width" in picture && "height" in picture) {
      return { data: picture.data, columns: picture.width, rows: picture.height, pitch: undefined };
    }
  }
  throw invalidPicture(name, "it must be a plane, an ndarray, or an object with data, width and height");
}

function fromNdarray<Data extends PlaneData>(
  name: string,
  pixels: NdArray<Data>,
  pitch: Pitch | undefined,
): ReadPicture<Data> {
  if (!Array.isArray(pixels?.shape)) throw invalidPicture(name, "it has no ndarray of pixels");
  const [rows, columns, ...more] = pixels.shape;
  if (rows === undefined || columns === undefined || more.length > 0) {
    throw invalidPicture(name, `its shape must be [rows, columns], and it is [${pixels.shape.join(", ")}]`);
  }
  return { data: denseData({ space: "luminance", pixels }), columns, rows, pitch };
}

/**
 * The array for the result of a stage: the caller's `out`, or a new one. Throws `OPTION_INVALID` if `out` has another length or
 * type, or shares memory with an input picture.
 */
export function outputFor<Data extends PlaneData>(
  out: Data | undefined,
  length: number,
  array: PictureKind<Data>["array"],
  inputs: readonly { readonly data: PlaneData }[],
): Data {
  if (out === undefined) return new array(length);
  if (!(out instanceof array) || out.length !== length) {
    const got = `${Object(out).constructor?.name ?? typeof out} of ${Object(out).length} values`;
    throw invalidPicture("out", `it must be a ${array.name} of ${length} values; got ${got}`);
  }
  if (inputs.some(({ data }) => overlap(out, data))) {
    throw invalidPicture("out", "it shares memory with a picture that is read; give an array of its own");
  }
  return out;
}

const overlap = (a: PlaneData, b: PlaneData): boolean =>
  a.buffer === b.buffer &&
  a.byteOffset < b.byteOffset + b.byteLength &&
  b.byteOffset < a.byteOffset + a.byteLength;

/** Throws `OPTION_INVALID` if two pictures that belong together differ in size. */
export function checkSameSize(
  names: readonly [string, string],
  a: Pick<ReadPicture<PlaneData>, "columns" | "rows">,
  b: Pick<ReadPicture<PlaneData>, "columns" | "rows">,
): void {
  if (a.columns === b.columns && a.rows === b.rows) return;
  const sizes = `${a.columns} × ${a.rows} and ${b.columns} × ${b.rows} pixels`;
  throw invalidPicture(names[1], `it must be as large as ${names[0]}: they have ${sizes}`);
}

function invalidPicture(name: string, fault: string): SpotpitchError {
  return invalidOption(name, `${name} cannot be used: ${fault}.`);
}
