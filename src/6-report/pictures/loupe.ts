import { luminanceFactorAt, type Response } from "../../core/material/response.js";
import { bytesPerRow, type PackedBitmap } from "../../core/packed-bits.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { Pitch } from "../../core/plane.js";
import { encodeBitmapPng } from "../files/bitmap-png.js";
import type { BitmapTexture } from "../files/deflate.js";
import type { Painter } from "./appearance.js";
import { mostDetailed } from "./detail-crop.js";
import type { PictureSize } from "./preview-size.js";

/**
 * Weights of neighbouring pixels for the samples of one pixel. The weight of pixel x + k at sample s is taps[s · width + k +
 * before].
 */
export interface LoupeTaps {
  readonly before: number;
  readonly width: number;
  readonly taps: readonly number[];
  /** What happens to each burst first, see `BurstChange`. `part` has as many taps as `taps`. Only for lines. */
  readonly bursts?: {
    readonly direction: 1 | -1;
    readonly shortens: boolean;
    readonly wholePx: number;
    readonly part: readonly number[];
  };
}

/** The data with which a page simulates the marks of a few pixels. Its code has no physics, only weighted sums and a table. */
export interface LoupeBurn {
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  readonly evenLines: LoupeTaps;
  readonly oddLines: LoupeTaps;
  readonly across: LoupeTaps;
  /** Doses of lines are raised to this power, summed, and raised back; 1 if they add up. */
  readonly lineExponent: number;
  /** Whether the first column is a neighbour of the last. */
  readonly closed: boolean;
  /** 1 / relative dose of the first row and of the last; linear in between. */
  readonly inverseDose: readonly [first: number, last: number];
  /** Dose of the last entry of the tables. Higher doses change nothing. */
  readonly lastDose: number;
  /** Luminance factors by dose, in hundred-thousandths. */
  readonly luminance: readonly number[];
  /** Colours by dose, six hexadecimal digits each. */
  readonly colours: string;
}

/** The dots of a piece, or of its most detailed part, for a loupe. */
export interface Loupe {
  /** The part, in burn pixels of the bitmap. */
  readonly region: PixelRectangle;
  readonly isWhole: boolean;
  /** The middle of the first view, in burn pixels as seen. */
  readonly start: { readonly x: number; readonly y: number };
  readonly png: Uint8Array;
  readonly burn: LoupeBurn;
}

/** The predicted piece, scaled for the screen, as seen: a mirrored bitmap is turned back. */
export interface SeenPiece extends PictureSize {
  /** [rows × columns] luminance factors */
  readonly values: Float32Array;
  readonly mirror: boolean;
}

/** Maximum number of single pixels in a page: two megabytes of text, a piece of 200 × 150 mm at 508 lines per inch. */
const MAX_DOTS = 12.6e6;
/** The maximum with power levels. Each pixel takes a byte, which compresses to half or less. */
const MAX_LEVELLED_DOTS = 3e6;
/** Side of the first view, and of a cell over which dots count as a tone, in burn pixels. */
const FIRST_VIEW_PX = 64;
const CELL_PX = 8;
const TABLE_STEPS = 1023;

export async function createLoupe(
  bitmap: PackedBitmap,
  pitch: Pitch,
  texture: BitmapTexture,
  seen: SeenPiece,
  burn: LoupeBurn,
): Promise<Loupe> {
  const region = regionOf(bitmap, seen);
  const side = (px: number, max: number): number => Math.min(px, max);
  const view = {
    columns: side(FIRST_VIEW_PX, region.columns),
    rows: side(FIRST_VIEW_PX, region.rows),
  };
  const inRegion = placeOfDetail(bitmap, seen, view, mirrored(region, bitmap, seen));
  return {
    region,
    isWhole: region.columns === bitmap.columns && region.rows === bitmap.rows,
    start: { x: inRegion.left + view.columns / 2, y: inRegion.top + view.rows / 2 },
    png: await encodeBitmapPng(cut(bitmap, region), pitch, texture),
    burn,
  };
}

/** The whole bitmap if it is small enough. Otherwise the most detailed part of the maximum size, in the piece's proportions. */
function regionOf(bitmap: PackedBitmap, seen: SeenPiece): PixelRectangle {
  const { columns, rows, levels } = bitmap;
  const max = levels > 2 ? MAX_LEVELLED_DOTS : MAX_DOTS;
  if (columns * rows <= max) return { left: 0, top: 0, columns, rows };
  const share = Math.sqrt(max / (columns * rows));
  const size = { columns: Math.floor(columns * share), rows: Math.floor(rows * share) };
  const place = placeOfDetail(bitmap, seen, size, { left: 0, top: 0, columns, rows });
  const { left, top } = mirrored({ ...place, ...size }, bitmap, seen);
  // The left edge is at a whole byte, so rows are cut without shifts. The top is even, so even lines stay even.
  return { left: left - (left % 8), top: top - (top % 2), ...size };
}

/** Converts a part of the bitmap to the part as seen, or back. */
const mirrored = (part: PixelRectangle, { columns }: PackedBitmap, { mirror }: SeenPiece): PixelRectangle =>
  mirror ? { ...part, left: columns - part.left - part.columns } : part;

/** The place of a window of burn pixels with the most detail within a part of the piece; all as seen. */
function placeOfDetail(
  bitmap: PackedBitmap,
  { columns, rows, values }: SeenPiece,
  window: PictureSize,
  within: PixelRectangle,
): { readonly left: number; readonly top: number } {
  const along = columns / bitmap.columns;
  const across = rows / bitmap.rows;
  const part = {
    left: Math.floor(within.left * along),
    top: Math.floor(within.top * across),
    columns: Math.max(1, Math.floor(within.columns * along)),
    rows: Math.max(1, Math.floor(within.rows * across)),
  };
  const inPart = new Float32Array(part.columns * part.rows);
  for (let y = 0; y < part.rows; y++) {
    const from = (part.top + y) * columns + part.left;
    inPart.set(values.subarray(from, from + part.columns), y * part.columns);
  }
  const crop = { columns: window.columns * along, rows: window.rows * across };
  const cellPx = Math.max(1, Math.round(CELL_PX * Math.max(along, across)));
  const place = mostDetailed(inPart, part.columns, part.rows, crop, cellPx);
  const inside = (at: number, max: number): number => Math.min(max, Math.max(0, Math.round(at)));
  return {
    left: within.left + inside(place.left / along, within.columns - window.columns),
    top: within.top + inside(place.top / across, within.rows - window.rows),
  };
}

function cut(bitmap: PackedBitmap, { left, top, columns, rows }: PixelRectangle): PackedBitmap {
  if (columns === bitmap.columns && rows === bitmap.rows) return bitmap;
  const { levels } = bitmap;
  const stride = bytesPerRow(columns, levels);
  const bytes = new Uint8Array(rows * stride);
  // Bits past the last column belong to the neighbours. The file's writer drops them.
  for (let y = 0; y < rows; y++) {
    const from = (top + y) * bitmap.stride + (levels > 2 ? left : left / 8);
    bytes.set(bitmap.bytes.subarray(from, from + stride), y * stride);
  }
  return { columns, rows, levels, stride, bytes };
}

/** The effect of a dose, as tables. */
export function loupeTables(
  response: Response,
  paint: Painter,
): Pick<LoupeBurn, "lastDose" | "luminance" | "colours"> {
  const lastDose = response.steps / response.stepsPerDose;
  const rgb = new Uint8Array(3);
  const factors = Array.from({ length: TABLE_STEPS + 1 }, (_, i) =>
    luminanceFactorAt(response, (i / TABLE_STEPS) * lastDose),
  );
  const colours = factors.map((factor) => {
    paint(factor, rgb, 0);
    return Buffer.from(rgb).toString("hex");
  });
  return {
    lastDose,
    luminance: factors.map((factor) => Math.round(1e5 * factor)),
    colours: colours.join(""),
  };
}
