import type { Photo } from "../../1-photo/decode.js";
import { partOfPhoto } from "../../1-photo/photo-part.js";
import { cropRectangle } from "../../3-resample/crop.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";
import { maskedPhoto } from "./mask.js";

/**
 * The part of a photo to engrave: masked, then cropped. All later steps treat it as the whole photo. Without mask and crop it is
 * the photo itself.
 */
export async function engravedPart(source: Photo, { crop, mask }: ResolvedOptions): Promise<Photo> {
  const masked = mask ? await maskedPhoto(source, mask) : source;
  if (!crop) return masked;
  const part = cropRectangle(crop, columnsOf(source.luminance), rowsOf(source.luminance));
  return partOfPhoto(masked, part.left, part.top, part.columns, part.rows);
}
