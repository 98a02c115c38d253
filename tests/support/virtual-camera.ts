import { PNG } from "pngjs";
import type { ResponsePoints } from "../../src/core/material/response.js";
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
  /** Dose of the whole piece over the nominal one. */
  readonly doseFactor?: number;
  readonly spread?: { readonly local: number; readonly localLengthMm: number; readonly line: number };
}

/** Settings of tests/reference/camera.py. */
export type VirtualCamera = Readonly<Record<string, unknown>>;

export interface VirtualPicture {
  readonly bytes: Buffer;
  /** Corners of the card in pixels, from its upper left clockwise. */
  readonly places: readonly (readonly [number, number])[];
}

/** A card of any kind. */
interface BurnedCard {
  readonly burnFile: Uint8Array;
  readonly recipe: {
    readonly pitchAlongMm: number;
    readonly pitchAcrossMm: number;
    readonly oneWay: boolean;
  };
}

/** One engraving of a card, and the camera that looks at it. */
export interface VirtualShot {
  readonly engraving: VirtualEngraving;
  readonly camera: VirtualCamera;
  /** Of everything random. */
  readonly seed: number;
}

/** Engrave a card with code that shares nothing with the product, and photograph it. */
export const photographed = (
  card: BurnedCard,
  engraving: VirtualEngraving,
  cameras: readonly VirtualCamera[],
  seed = 1,
): VirtualPicture[] =>
  shots(
    card,
    cameras.map((camera) => ({ engraving, camera, seed })),
  );

/** The same for several engravings of one card. */
export function shots({ burnFile, recipe }: BurnedCard, each: readonly VirtualShot[]): VirtualPicture[] {
  const { width: columns, height: rows, data } = PNG.sync.read(Buffer.from(burnFile));
  const burn = Buffer.from(
    Uint8Array.from({ length: columns * rows }, (_, i) => (data[4 * i] < 128 ? 1 : 0)),
  ).toString("base64");
  const grid = {
    pitchAlongMm: recipe.pitchAlongMm,
    pitchAcrossMm: recipe.pitchAcrossMm,
    twoWay: !recipe.oneWay,
  };
  const cases = each.map(({ engraving, camera, seed }) => ({
    ...{ burn, columns, rows, seed, camera },
    params: { ...engraving, ...grid },
  }));
  const pictures = askReference<{ picture: string; places: [number, number][] }[]>("camera.py", { cases });
  return pictures.map(({ picture, places }) => ({ bytes: Buffer.from(picture, "base64"), places }));
}
