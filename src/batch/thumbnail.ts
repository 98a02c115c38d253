import { pieceOnPreview, previewSize } from "../6-report/pictures/preview.js";
import type { Report } from "../6-report/report.js";

/** Longer side, in pixels: sharp in the contact sheet on a screen of double density. */
const LONGER_SIDE_PX = 320;

/**
 * A small WebP for the contact sheet: the piece, cut from its preview file. A cone shows the whole file, because its sheet is no
 * rectangle.
 */
export async function thumbnail(
  preview: Uint8Array,
  { widthMm, heightMm, columns, rows, around }: Report["job"],
): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const picture = sharp(preview);
  if (!around?.cone) {
    const piece = pieceOnPreview(previewSize(widthMm, heightMm, columns, rows));
    picture.extract({ left: piece.left, top: piece.top, width: piece.columns, height: piece.rows });
  }
  return picture
    .resize({ width: LONGER_SIDE_PX, height: LONGER_SIDE_PX, fit: "inside", withoutEnlargement: true })
    .webp({ quality: 60 })
    .toBuffer();
}
