import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";
import { between, mix } from "./coarse-grid.js";
import type { GuidedBase } from "./guided-base.js";

/** Surroundings of this L* are in the middle of the scale. No lift raises what is lighter. */
const MIDDLE_LIGHTNESS = 50;

/**
 * Exponent of black surroundings at full strength. L* 20 becomes 43. With a smaller exponent, a lighter pixel could become darker
 * than a darker one beside it: the order is kept while −ln(exponent) < e / 2.
 */
const DEEPEST_EXPONENT = 1 / 3;

/** How dark parts of a picture are lifted. */
export interface Lift {
  /** 0..1 */
  readonly strength: number;
  readonly base: GuidedBase;
  /** L* of the surroundings up to which a point is lifted. */
  readonly upTo: number;
}

/** A lift towards the mean lightness of the picture: what is dark as a whole has no dark part, and stays. */
export const liftOf = (strength: number, base: GuidedBase, meanLightness: number): Lift => ({
  strength,
  base,
  upTo: Math.min(MIDDLE_LIGHTNESS, meanLightness),
});

/**
 * Lift dark parts: a power of each point's L*, with an exponent from the lightness of its surroundings (N. Moroney, "Local color
 * correction using non-linear masking", Proc. IS&T/SID 8th Color Imaging Conf. (2000), 108–111). The surroundings end at edges, as
 * in R. Schettini et al., "Contrast image correction method", J. Electron. Imaging 19(2) (2010), 023005; here a guided filter
 * finds them. Black and white stay, and light surroundings are not darkened.
 *
 * @param row y of the picture, [columns of the picture] linear luminance 0..1; changed in place
 * @param rows of the picture
 * @param negative whether the picture has light and dark swapped. The scene's dark parts are then light
 */
export function liftRow(row: Float32Array, y: number, rows: number, lift: Lift, negative = false): void {
  const { base, strength, upTo } = lift;
  const { columns, closed, slope, offset } = base;
  const [top, bottom, down] = between((y + 0.5) / rows, base.rows, false);
  for (let x = 0; x < row.length; x++) {
    const [left, right, along] = between((x + 0.5) / row.length, columns, closed);
    const at = (plane: Float32Array): number =>
      mix(
        mix(plane[top * columns + left], plane[top * columns + right], along),
        mix(plane[bottom * columns + left], plane[bottom * columns + right], along),
        down,
      );
    const seen = lightnessFromLuminance(row[x]);
    const own = negative ? 100 - seen : seen;
    const depth = (upTo - (at(slope) * own + at(offset))) / MIDDLE_LIGHTNESS;
    if (depth <= 0) continue;
    const lifted = 100 * (own / 100) ** (DEEPEST_EXPONENT ** (strength * depth));
    row[x] = luminanceFromLightness(negative ? 100 - lifted : lifted);
  }
}
