import type { Painter } from "./appearance.js";
import type { RgbPicture } from "./canvas.js";

/** Luminance factors [rows × columns] in a material's colours. */
export function paintedPicture(
  values: Float32Array,
  columns: number,
  rows: number,
  paint: Painter,
): RgbPicture {
  const rgb = new Uint8Array(3 * columns * rows);
  for (let i = 0; i < values.length; i++) paint(values[i], rgb, 3 * i);
  return { columns, rows, rgb };
}

/**
 * Quality at which a halftone's grain keeps its look; colours as fine as lightness, or wood would look veiled. Codes made to
 * measure would save 3 % of the file and hold the whole picture three times over.
 */
const HOW = { quality: 82, chromaSubsampling: "4:4:4", optimiseCoding: false } as const;

/** A picture of a page as JPEG: grain has no runs that a PNG could use. */
export async function encodePagePicture({ columns, rows, rgb }: RgbPicture): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  return sharp(rgb, { raw: { width: columns, height: rows, channels: 3 } })
    .jpeg(HOW)
    .toBuffer();
}

/** A file's bytes where an address is wanted. */
export const dataAddress = (type: string, bytes: Uint8Array): string =>
  `data:${type};base64,${Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64")}`;
