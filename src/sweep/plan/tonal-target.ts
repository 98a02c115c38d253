import type { Photo } from "../../1-photo/decode.js";
import { madePhoto } from "../../1-photo/made-photo.js";
import { luminanceFromLightness } from "../../core/physics/lightness.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";

const LONGER_SIDE_PX = 1600;

/** Amplitude of the texture, in L*. */
const TEXTURE = 8;

/** Periods of texture in one ramp, in the first row of a band and in its last: from broad forms to fine detail. */
const WAVES = [2, 16] as const;

/**
 * Length of a ramp in spots: 256 pixels at five times the matched density, the size of the part on which halftone methods are
 * tried.
 */
const RAMP_SPOTS = 51;

/**
 * A picture to judge densities without a photo: ramps from black to white and back, in bands as high as a ramp is long, with a
 * texture from broad to fine. Every square with the side of a ramp holds all tones.
 *
 * @param spotMm 1/e² diameter
 */
export function tonalTarget(
  widthMm: number,
  heightMm: number,
  spotMm: number,
  longerSidePx = LONGER_SIDE_PX,
): Photo {
  const pxPerMm = longerSidePx / Math.max(widthMm, heightMm);
  const columns = Math.max(1, Math.round(widthMm * pxPerMm));
  const rows = Math.max(1, Math.round(heightMm * pxPerMm));
  const periodPx = Math.max(1, RAMP_SPOTS * spotMm * pxPerMm);
  const codes = new Uint16Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    const down = (y % periodPx) / periodPx;
    const waves = WAVES[0] + (WAVES[1] - WAVES[0]) * down;
    for (let x = 0; x < columns; x++) {
      const along = x / periodPx;
      const ramp = Math.abs((along % 2) - 1);
      const texture = TEXTURE * Math.sin(2 * Math.PI * waves * along);
      const lightness = Math.min(100, Math.max(0, 100 * ramp + texture));
      codes[y * columns + x] = Math.round(65535 * srgbFromLinear(luminanceFromLightness(lightness)));
    }
  }
  return madePhoto(codes, rows, columns);
}

/** One black pixel. */
export const blankPicture = (): Photo => madePhoto(new Uint16Array(1), 1, 1);
