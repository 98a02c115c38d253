import { madePhoto } from "../../1-photo/made-photo.js";
import type { Photo } from "../../1-photo/photo.js";
import { CHECK_STEPS, type CheckLayout } from "../../7-card/check-layout.js";
import { type PackedBitmap, packArea, unpackArea } from "../../core/packed-bits.js";
import { luminanceFromLightness } from "../../core/physics/lightness.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { CheckCardOptions } from "../../options/check-options.js";
import type { PrepareOptions } from "../../options/options.js";
import type { Table } from "../kept-tables.js";
import type { MadePiece } from "../made-piece.js";
import { makePiece, type PhotoSource, type PrepareContext } from "../make-piece.js";
import { builtInPhoto } from "./built-in-photo.js";

/** The halftoned tones of a check card. */
export interface CheckTones {
  /** As large as the card; what lies outside the patches of the wedge is not used. */
  readonly wedge: MadePiece;
  readonly photo: MadePiece;
}

/** Options of the job, and the picture to show if the user has one. */
export interface CheckJob {
  readonly job: Omit<CheckCardOptions, "sizeMm">;
  readonly photo?: PhotoSource | undefined;
  readonly fileName?: string | undefined;
}

/**
 * Halftone the wedge and the photo as `prepare` does. The photo comes first: it chooses the method where none is named.
 */
export async function halftonedTones(
  layout: CheckLayout,
  asked: CheckJob,
  darkens: boolean,
): Promise<CheckTones> {
  const { columns, rows } = layout.photoArea;
  const { alongMm, acrossMm } = layout.grid.pitch;
  const own = asked.photo ?? decoded(builtInPhoto((rows * acrossMm) / (columns * alongMm)));
  const options = { ...asked.job, ...onGrid(layout, layout.photoArea) };
  const context = { curves: new Map<string, Table>(), fileName: asked.fileName };
  const photo = await halftoned(own, options, context);
  const wedge = await halftoned(
    decoded(wedgePhoto(layout, darkens)),
    {
      ...{ ...asked.job, ...onGrid(layout, { left: 0, top: 0, ...layout.grid }) },
      ...{ method: photo.method.id, fit: "stretch", autoTone: false, lift: 0 },
    },
    context,
  );
  return { wedge, photo };
}

/** Copy the halftoned tones to their places on a card. */
export function burnTones(bitmap: PackedBitmap, layout: CheckLayout, { wedge, photo }: CheckTones): void {
  const { photoArea, patches } = layout;
  for (const { shows, area } of patches) {
    if (typeof shows === "number") copyArea(wedge, area, bitmap, area);
  }
  copyArea(photo, { ...photoArea, left: 0, top: 0 }, bitmap, photoArea);
}

function copyArea(piece: MadePiece, from: PixelRectangle, bitmap: PackedBitmap, to: PixelRectangle): void {
  if (piece.burned.bitmap) packArea(bitmap, to, unpackArea(piece.burned.bitmap, from));
}

/** An area of the card as a piece of its own, with exactly the card's pixels. */
function onGrid({ spec, grid }: CheckLayout, { columns, rows }: PixelRectangle): PrepareOptions {
  return {
    linesPerInch: spec.linesPerInch,
    linesPerInchAlong: spec.linesPerInchAlong,
    widthMm: columns * grid.pitch.alongMm,
    heightMm: rows * grid.pitch.acrossMm,
    kind: "photo",
    // The bitmap is wanted alone: what it will look like is predicted on the whole card.
    bitmapOnly: true,
  };
}

const decoded = (photo: Photo): PhotoSource => ({ photo: Promise.resolve(photo) });

async function halftoned(
  photo: PhotoSource,
  options: PrepareOptions,
  context: PrepareContext,
): Promise<MadePiece> {
  const wishes = { files: {}, keepBitmap: true, wholeReport: false, aboutPhoto: false };
  const { piece } = await makePiece(photo, options, wishes, context);
  return piece;
}

/** Tone round a patch, in mm: the halftone has settled where the patch begins. */
const ROUND_MM = 0.25;

/** The wedge as a photo with a pixel for each pixel of the card. What is not a step is bare. */
function wedgePhoto({ grid, patches }: CheckLayout, darkens: boolean): Photo {
  const { columns, rows, pitch } = grid;
  const codes = new Uint16Array(columns * rows).fill(darkens ? 65535 : 0);
  const [round, above] = [pitch.alongMm, pitch.acrossMm].map((mm) => Math.floor(ROUND_MM / mm));
  for (const { shows, area } of patches) {
    if (typeof shows !== "number") continue;
    const code = Math.round(65535 * srgbFromLinear(stepLuminance(shows, darkens)));
    for (let y = area.top - above; y < area.top + area.rows + above; y++) {
      const from = y * columns + area.left;
      codes.fill(code, from - round, from + area.columns + round);
    }
  }
  return madePhoto(codes, rows, columns);
}

/** The photo's luminance of a step: even steps of L* from bare to solid, without the ends, which the references show. */
export function stepLuminance(step: number, darkens: boolean): number {
  const share = step / (CHECK_STEPS + 1);
  return luminanceFromLightness(100 * (darkens ? 1 - share : share));
}
