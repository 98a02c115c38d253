import { BRIGHTEST_CODE } from "../../core/luminance-codes.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../core/physics/lightness.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { seededRandom } from "../../core/random.js";

/** Samples of the photo along and across. They lie at the same places of the photo whatever the grid is. */
const SAMPLES = 96;

/** Ramps by which the last row is shifted against the first: there and back, so that all tones have their share. */
const SHIFT = 2;

/** Amplitude of the texture, in L*. Without any, scattered dots fall into patterns that no photograph shows. */
const TEXTURE = 2;
const SEED = 1;

/** A small picture as luminance codes, row-major. */
interface SmallPicture {
  readonly codes: Uint16Array;
  readonly columns: number;
  readonly rows: number;
}

/**
 * A small picture with the tones of a photo, each with its share, in order along slanted ramps and with a slight texture. The
 * quality of a halftone depends on tones more than on their places, so this picture stands for the photo. Unlike a part of the
 * photo, it is the same at nearly equal sizes and densities.
 *
 * @param codes the photo's luminance on the grid
 * @param area the part of the grid that counts
 */
export function tonesInOrder(codes: CodeRows, area: PixelRectangle, sidePx: number): SmallPicture {
  const lightness = sortedLightness(codes, area);
  const columns = Math.min(area.columns, sidePx);
  const rows = Math.min(area.rows, sidePx);
  const out = new Uint16Array(columns * rows);
  const random = seededRandom(SEED);
  for (let y = 0, i = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, i++) {
      const at = (x + 0.5) / columns + (SHIFT * y) / rows;
      const ramp = 1 - Math.abs((at % 2) - 1);
      const tone = lightness[Math.min(lightness.length - 1, Math.floor(ramp * lightness.length))];
      const textured = Math.min(100, Math.max(0, tone + TEXTURE * (2 * random() - 1)));
      out[i] = Math.round(BRIGHTEST_CODE * luminanceFromLightness(textured));
    }
  }
  return { codes: out, columns, rows };
}

/** L* of samples within an area of the grid, rising. */
function sortedLightness(codes: CodeRows, { left, top, columns, rows }: PixelRectangle): Float64Array {
  const along = Math.min(columns, SAMPLES);
  const across = Math.min(rows, SAMPLES);
  const samples = new Float64Array(along * across);
  for (let k = 0, i = 0; k < across; k++) {
    const row = codes(top + Math.floor(((k + 0.5) * rows) / across));
    for (let n = 0; n < along; n++, i++) {
      const code = row[left + Math.floor(((n + 0.5) * columns) / along)];
      samples[i] = lightnessFromLuminance(code / BRIGHTEST_CODE);
    }
  }
  return samples.sort();
}
