import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";
import { boxBlur } from "./box-blur.js";
import { between, type CoarseGrid, mix } from "./coarse-grid.js";

/** Radius of the surroundings, as a share of the picture's longer side. */
const RADIUS_SHARE = 0.04;

/** Longer side of the small picture that the surroundings are computed from. The radius is then 10 pixels, which is fast. */
export const SURROUNDINGS_PX = 256;

/** Mean L* of each point's surroundings. */
export interface Surroundings extends CoarseGrid {
  readonly lightness: Float32Array;
}

/**
 * Mean lightness around each point: three box blurs, which approximate a Gaussian (W. M. Wells, "Efficient synthesis of
 * Gaussian filters by cascaded uniform filters", IEEE Trans. PAMI 8(2) (1986), 234–239).
 *
 * @param luminance [rows × columns] linear, 0..1, of a picture scaled down to `SURROUNDINGS_PX` or less
 * @param closed whether the last and the first pixel of a row are neighbours
 * @param coverage [rows × columns] 0..1, if the picture has transparent parts. Pixels count by their coverage; otherwise the
 * background of a cut-out would darken or lighten its rim
 */
export function surroundingsOf(
  luminance: Float32Array,
  columns: number,
  rows: number,
  closed = false,
  coverage?: Float32Array,
): Surroundings {
  const radiusPx = Math.max(1, Math.round(Math.max(columns, rows) * RADIUS_SHARE));
  const blurred = (plane: Float32Array): Float32Array => {
    let out = plane;
    for (let pass = 0; pass < 3; pass++) out = boxBlur(out, columns, rows, Math.ceil(radiusPx / 3), closed);
    return out;
  };
  const lightness = luminance.map(lightnessFromLuminance);
  if (!coverage) return { columns, rows, lightness: blurred(lightness), closed };
  const sums = blurred(lightness.map((value, i) => value * coverage[i]));
  const weights = blurred(coverage);
  // Far from any coverage there is no picture, so there is no contrast to add.
  return {
    columns,
    rows,
    lightness: sums.map((sum, i) => (weights[i] > MIN_WEIGHT ? sum / weights[i] : lightness[i])),
    closed,
  };
}

/** Rounding of running sums in single precision leaves about this much in transparent parts. */
const MIN_WEIGHT = 1e-4;

/**
 * Local contrast: each point's L* moves away from the mean L* of its surroundings by `amount` of their difference (unsharp
 * masking with a wide mask).
 *
 * @param row y of the picture, [columns of the picture] linear luminance 0..1; changed in place
 * @param rows of the picture
 * @param amount 0..2
 */
export function addLocalContrast(
  row: Float32Array,
  y: number,
  rows: number,
  surroundings: Surroundings,
  amount: number,
): void {
  const { columns, lightness, closed } = surroundings;
  const [top, bottom, down] = between((y + 0.5) / rows, surroundings.rows, false);
  for (let x = 0; x < row.length; x++) {
    const [left, right, along] = between((x + 0.5) / row.length, columns, closed);
    const upper = mix(lightness[top * columns + left], lightness[top * columns + right], along);
    const lower = mix(lightness[bottom * columns + left], lightness[bottom * columns + right], along);
    const own = lightnessFromLuminance(row[x]);
    const moved = own + amount * (own - mix(upper, lower, down));
    row[x] = luminanceFromLightness(Math.min(100, Math.max(0, moved)));
  }
}
