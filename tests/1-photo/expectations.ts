import { readFileSync } from "node:fs";
import { decodePhoto } from "../../src/1-photo/decode.js";
import type { DecodeOptions, Photo } from "../../src/1-photo/photo.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { linearFromSrgb, luminanceFromLinearRgb } from "../../src/core/physics/transfer.js";
import { denseData } from "../../src/core/plane.js";

/** 16-bit codes of the decoded luminance, row by row. */
export const codesOf = (photo: Photo): number[] => Array.from(denseData(photo.luminance));

/** Linear luminance of every pixel, row by row. */
export const lightOf = (photo: Photo): number[] => codesOf(photo).map((code) => linearFromSrgb(code / 65535));

export const opacityOf = (photo: Photo): number[] | undefined =>
  photo.opacity && Array.from(denseData(photo.opacity));

export const sizeOf = (photo: Photo): number[] => photo.luminance.pixels.shape;

/** Luminance of an 8-bit sRGB colour by ITU-R BT.709 and IEC 61966-2-1. */
export function luminanceOfRgb(red: number, green: number, blue: number): number {
  const light = (code: number) => linearFromSrgb(code / 255);
  return luminanceFromLinearRgb(light(red), light(green), light(blue));
}

export function meanLight(photo: Photo): number {
  const light = lightOf(photo);
  return light.reduce((sum, value) => sum + value, 0) / light.length;
}

/** The error that a file is refused with; fails the test where it is accepted, or where any other error comes. */
export async function refusalOf(bytes: Uint8Array, options?: DecodeOptions): Promise<SpotpitchError> {
  try {
    await decodePhoto(bytes, options);
  } catch (error) {
    if (error instanceof SpotpitchError) return error;
    throw error;
  }
  throw new Error("The file was accepted.");
}

interface CheckValue<Inputs, Expected> {
  readonly id: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  readonly source: string;
}

/** Entries of tests/data/check-values.json whose id starts with `prefix`. */
export function checkValues<Inputs, Expected>(prefix: string): CheckValue<Inputs, Expected>[] {
  const file = new URL("../data/check-values.json", import.meta.url);
  const entries = JSON.parse(readFileSync(file, "utf8")) as CheckValue<Inputs, Expected>[];
  return entries.filter(({ id }) => id.startsWith(prefix));
}
