import { PNG } from "pngjs";
import type { ResponsePoints } from "../../src/core/material/response.js";
import type { MadeTestCard } from "../../src/index.js";
import { askReference } from "./reference.js";

/** A machine and a material that nobody knows. */
export interface VirtualEngraving {
  readonly response: ResponsePoints;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  readonly firingLagUs?: number;
  readonly firingLossUs?: number;
  readonly lineShiftMm?: number;
  readonly lineExponent?: number;
  readonly speedMmPerS?: number;
  readonly spread?: { readonly local: number; readonly localLengthMm: number; readonly line: number };
}

/** Settings of tests/reference/camera.py. */
export type VirtualCamera = Readonly<Record<string, unknown>>;

export interface VirtualPicture {
  readonly bytes: Buffer;
  /** Corners of the card in pixels, from its upper left clockwise. */
  readonly places: readonly (readonly [number, number])[];
}

/** Engrave a card with code that shares nothing with the product, and photograph it. */
export function photographed(
  { burnFile, recipe }: MadeTestCard,
  engraving: VirtualEngraving,
  cameras: readonly VirtualCamera[],
  seed = 1,
): VirtualPicture[] {
  const { width: columns, height: rows, data } = PNG.sync.read(Buffer.from(burnFile));
  const burn = Buffer.from(
    Uint8Array.from({ length: columns * rows }, (_, i) => (data[4 * i] < 128 ? 1 : 0)),
  );
  const params = {
    ...engraving,
    pitchAlongMm: recipe.pitchAlongMm,
    pitchAcrossMm: recipe.pitchAcrossMm,
    twoWay: !recipe.oneWay,
  };
  const cases = cameras.map((camera) => ({
    burn: burn.toString("base64"),
    columns,
    rows,
    params,
    seed,
    camera,
  }));
  const pictures = askReference<{ picture: string; places: [number, number][] }[]>("camera.py", { cases });
  return pictures.map(({ picture, places }) => ({ bytes: Buffer.from(picture, "base64"), places }));
}
