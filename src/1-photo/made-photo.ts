import { plane } from "../core/plane.js";
import type { Photo } from "./photo.js";

/** A picture that was computed, as if it had been decoded. `codes` are [rows × columns] sRGB-encoded, 0..65535. */
export const madePhoto = (codes: Uint16Array, rows: number, columns: number): Photo => ({
  luminance: plane("encoded-luminance", codes, rows, columns),
  format: "png",
  sourceBits: 16,
  hadProfile: false,
  looksDamaged: false,
  orientation: 1,
  pages: 1,
});
