import type { Photo } from "../../1-photo/decode.js";
import { partOfPhoto } from "../../1-photo/photo-part.js";
import { cropRectangle } from "../../3-resample/crop.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";
import { maskedPhoto } from "./mask.js";

/**
 * What there is to engrave of a photo: masked, then cropped; everything behind takes it as if the file held nothing else. The
 * photo itself where neither is asked for.
 */
export async function engravedPart(source: Photo, { crop, mask }: ResolvedOptions): Promise<Photo> {
  const masked = mask ? await maskedPhoto(source, mask) : source;
  if (!crop) return masked;
  const part = cropRectangle(crop, columnsOf(source.luminance), rowsOf(source.luminance));
  return partOfPhoto(masked, part.left, part.top, part.columns, part.rows);
}
