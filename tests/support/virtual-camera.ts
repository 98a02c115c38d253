import { PNG } from "pngjs";
import type { MmArea } from "../../src/7-card-picture/measure.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import type { Pitch } from "../../src/core/plane.js";
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

/** A card of any kind. */
interface BurnedCard {
  readonly burnFile: Uint8Array;
  readonly recipe: {
    readonly pitchAlongMm: number;
    readonly pitchAcrossMm: number;
    readonly oneWay: boolean;
    readonly patches: readonly MmArea[];
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
): VirtualPicture[] => engravedPictures(bitmapOf(card), engraving, cameras, seed);

/** The same for several engravings of one card. */
export const shots = (card: BurnedCard, each: readonly VirtualShot[]): VirtualPicture[] =>
  taken(
    bitmapOf(card),
    each.map(({ engraving, camera, seed }) => ({ engraving, cameras: [camera], seed })),
  );

/** A bitmap, and how it is burned: it need not be the card that its code says. */
export interface BurnedBitmap {
  /** PNG: black burns. */
  readonly burnFile: Uint8Array;
  readonly pitch: Pitch;
  readonly twoWay: boolean;
  /** Whose means are asked. */
  readonly patches?: BurnedCard["recipe"]["patches"];
}

const bitmapOf = ({ burnFile, recipe }: BurnedCard): BurnedBitmap => ({
  burnFile,
  pitch: { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm },
  twoWay: !recipe.oneWay,
  patches: recipe.patches,
});

/** Engrave a bitmap, and photograph it. */
export const engravedPictures = (
  bitmap: BurnedBitmap,
  engraving: VirtualEngraving,
  cameras: readonly VirtualCamera[],
  seed = 1,
): VirtualPicture[] => taken(bitmap, [{ engraving, cameras, seed }]);

/** Share of a patch's side that is left out at each end, as a reader of cards does, because blur reaches in. */
const RIM = 0.12;

interface Engraved {
  readonly engraving: VirtualEngraving;
  readonly cameras: readonly VirtualCamera[];
  readonly seed: number;
}

function taken(
  { burnFile, pitch, twoWay, patches = [] }: BurnedBitmap,
  each: readonly Engraved[],
): VirtualPicture[] {
  const { width: columns, height: rows, data } = PNG.sync.read(Buffer.from(burnFile));
  const burn = Buffer.from(
    Uint8Array.from({ length: columns * rows }, (_, i) => (data[4 * i] < 128 ? 1 : 0)),
  ).toString("base64");
  const grid = { pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm, twoWay };
  const areas = patches.map(({ leftMm, topMm, widthMm, heightMm }) => [
    leftMm + RIM * widthMm,
    topMm + RIM * heightMm,
    ...[widthMm, heightMm].map((sideMm) => (1 - 2 * RIM) * sideMm),
  ]);
  const cases = each.map(({ engraving: { stopsAfter = 1, ...engraving }, cameras, seed }) => ({
    ...{ burn, columns, rows, seed, stopsAfter, cameras, areas, params: { ...engraving, ...grid } },
  }));
  const pictures = askReference<Taken[][]>("camera.py", { cases }).flat();
  return pictures.map(({ picture, ...told }) => ({ bytes: Buffer.from(picture, "base64"), ...told }));
}

interface Taken extends Omit<VirtualPicture, "bytes"> {
  readonly picture: string;
}
