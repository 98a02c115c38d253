import { PNG } from "pngjs";
import type { ResponsePoints } from "../../src/core/material/response.js";
import type { Pitch } from "../../src/core/plane.js";
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
  readonly speedMmPerS?: number;
  /** Power, as a share of that which the response means. */
  readonly doseFactor?: number;
  /** Share of the lines that are engraved before the machine stops. */
  readonly stopsAfter?: number;
  readonly spread?: { readonly local: number; readonly localLengthMm: number; readonly line: number };
}

/** Settings of tests/reference/camera.py. */
export type VirtualCamera = Readonly<Record<string, unknown>>;

export interface VirtualPicture {
  readonly bytes: Buffer;
  /** Corners of the card in pixels, from its upper left clockwise. */
  readonly places: readonly (readonly [number, number])[];
  /** Luminance factor of each patch inside its rim, before the camera saw it. */
  readonly means: readonly number[];
}

/** Engrave a card with code that shares nothing with the product, and photograph it. */
export function photographed(
  { burnFile, recipe }: MadeTestCard,
  engraving: VirtualEngraving,
  cameras: readonly VirtualCamera[],
  seed = 1,
): VirtualPicture[] {
  const pitch = { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm };
  const bitmap = { burnFile, pitch, twoWay: !recipe.oneWay, patches: recipe.patches };
  return engravedPictures(bitmap, engraving, cameras, seed);
}

/** A bitmap, and how it is burned: it need not be the card that its code says. */
export interface BurnedBitmap {
  /** PNG: black burns. */
  readonly burnFile: Uint8Array;
  readonly pitch: Pitch;
  readonly twoWay: boolean;
  /** Whose means are asked. */
  readonly patches?: MadeTestCard["recipe"]["patches"];
}

/** Share of a patch's side that is left out at each end, as a reader of cards does, because blur reaches in. */
const RIM = 0.12;

/** Engrave a bitmap, and photograph it. */
export function engravedPictures(
  { burnFile, pitch, twoWay, patches = [] }: BurnedBitmap,
  { stopsAfter = 1, ...engraving }: VirtualEngraving,
  cameras: readonly VirtualCamera[],
  seed = 1,
): VirtualPicture[] {
  const { width: columns, height: rows, data } = PNG.sync.read(Buffer.from(burnFile));
  const burn = Buffer.from(
    Uint8Array.from({ length: columns * rows }, (_, i) => (data[4 * i] < 128 ? 1 : 0)),
  );
  const params = { ...engraving, pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm, twoWay };
  const areas = patches.map(({ leftMm, topMm, widthMm, heightMm }) => [
    leftMm + RIM * widthMm,
    topMm + RIM * heightMm,
    ...[widthMm, heightMm].map((sideMm) => (1 - 2 * RIM) * sideMm),
  ]);
  const card = { burn: burn.toString("base64"), columns, rows, params, seed, stopsAfter, cameras, areas };
  const [pictures] = askReference<Taken[][]>("camera.py", { cases: [card] });
  return pictures.map(({ picture, ...told }) => ({ bytes: Buffer.from(picture, "base64"), ...told }));
}

interface Taken extends Omit<VirtualPicture, "bytes"> {
  readonly picture: string;
}
