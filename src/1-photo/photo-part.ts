import { partOfPlane } from "../core/plane.js";
import type { Photo } from "./photo.js";

/** A rectangle of a photo as a photo, without copying. */
export function partOfPhoto(photo: Photo, left: number, top: number, columns: number, rows: number): Photo {
  const { luminance, opacity } = photo;
  return {
    ...photo,
    luminance: partOfPlane(luminance, left, top, columns, rows),
    ...(opacity && { opacity: partOfPlane(opacity, left, top, columns, rows) }),
  };
}
