import type { RgbPicture } from "./canvas.js";
import { type BurntSize, eraseDashes } from "./enlarged-part.js";
import { pieceOnPreview, previewSize } from "./preview.js";

/** The piece itself, cut out of its preview file. The frame round its enlarged part stays behind. */
export async function pieceOfPreview(preview: Uint8Array, size: BurntSize): Promise<RgbPicture> {
  const { default: sharp } = await import("sharp");
  const { burnColumns, burnRows, widthMm, heightMm } = size;
  const piece = pieceOnPreview(previewSize(widthMm, heightMm, burnColumns, burnRows));
  const { data, info } = await sharp(preview).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const raw = { width: info.width, height: info.height, channels: 3 } as const;
  eraseDashes({ rgb: data, columns: info.width, rows: info.height }, piece, size);
  const { left, top, columns, rows } = piece;
  const rgb = await sharp(data, { raw })
    .extract({ left, top, width: columns, height: rows })
    .raw()
    .toBuffer();
  return { rgb, columns, rows };
}
