import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { type PictureOnGrid, smallLuminance } from "./picture-rows.js";

/** The step at the seam of a picture that closes around the piece. */
export interface SeamStep {
  /** Root mean square over the rows of the step in L* from the last column to the first. */
  readonly stepLightness: number;
  /** The same from any other column to the next: the median. */
  readonly usualStepLightness: number;
}

/** Longer side of the picture on which steps are measured. It is small, so that steps in grain do not count. */
const LOOKED_AT_PX = 256;

/** Steps of the picture around the piece, in L* of the photo; undefined if bare surface separates its sides. */
export function seamStep(picture: PictureOnGrid): SeamStep | undefined {
  if (!picture.frame.closed) return undefined;
  const { placement } = picture.frame;
  const scale = Math.min(1, LOOKED_AT_PX / Math.max(placement.columns, placement.rows));
  const columns = Math.max(3, Math.round(placement.columns * scale));
  const rows = Math.max(1, Math.round(placement.rows * scale));
  const lightness = smallLuminance(picture, columns, rows).map(lightnessFromLuminance);
  const stepTo = (x: number): number => {
    let squares = 0;
    for (let y = 0; y < rows; y++) {
      squares += (lightness[y * columns + x] - lightness[y * columns + ((x + columns - 1) % columns)]) ** 2;
    }
    return Math.sqrt(squares / rows);
  };
  const others = Array.from({ length: columns - 1 }, (_, k) => stepTo(k + 1)).sort((a, b) => a - b);
  return { stepLightness: stepTo(0), usualStepLightness: others[others.length >> 1] };
}
