import type { Painter } from "./appearance.js";
import type { SmallPicture } from "./box-means.js";
import type { RgbPicture } from "./canvas.js";

/** The part of a piece that a picture covers: at least the whole, for blocks at the edge may stick out. */
interface Extent {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface PaintedPicture extends Extent {
  readonly painted: RgbPicture;
}

/** A picture on a page: its file. */
export interface PagePicture extends Extent {
  readonly jpeg: Uint8Array;
}

/**
 * Luminance factors in a material's colours.
 *
 * @param mirror show left for right
 */
export function paintedPicture(
  { columns, rows, block, values }: SmallPicture,
  pitch: { readonly alongMm: number; readonly acrossMm: number },
  paint: Painter,
  mirror: boolean,
): PaintedPicture {
  const rgb = new Uint8Array(3 * columns * rows);
  for (let y = 0, at = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, at += 3) {
      paint(values[y * columns + (mirror ? columns - 1 - x : x)], rgb, at);
    }
  }
  return {
    painted: { columns, rows, rgb },
    widthMm: columns * block.along * pitch.alongMm,
    heightMm: rows * block.across * pitch.acrossMm,
  };
}

/** Quality at which a halftone's grain keeps its look; colours as fine as lightness, or wood would look veiled. */
const HOW = { quality: 82, chromaSubsampling: "4:4:4" } as const;

/** As JPEG: grain has no runs that a PNG could use. */
export async function encodePagePicture({ painted, ...extent }: PaintedPicture): Promise<PagePicture> {
  const { columns: width, rows: height, rgb } = painted;
  const { default: sharp } = await import("sharp");
  const jpeg = await sharp(rgb, { raw: { width, height, channels: 3 } })
    .jpeg(HOW)
    .toBuffer();
  return { jpeg, ...extent };
}

/** A file's bytes where an address is wanted. */
export const dataAddress = (type: string, bytes: Uint8Array): string =>
  `data:${type};base64,${Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64")}`;
