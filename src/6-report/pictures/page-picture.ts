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
 * A quality that keeps the look of a halftone's grain. Colours have the resolution of lightness; otherwise wood would look veiled.
 * Optimised codes would save 3 % of the file but need three times the memory of the picture.
 */
const HOW = { quality: 82, chromaSubsampling: "4:4:4", optimiseCoding: false } as const;

/** A picture of a page as JPEG. A PNG would be large, because grain has no runs. */
export async function encodePagePicture({ columns, rows, rgb }: RgbPicture): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  return sharp(rgb, { raw: { width: columns, height: rows, channels: 3 } })
    .jpeg(HOW)
    .toBuffer();
}

/** A file's bytes as a data URL. */
export const dataAddress = (type: string, bytes: Uint8Array): string =>
  `data:${type};base64,${Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64")}`;
