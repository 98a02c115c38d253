import { lightnessFromLuminance, luminanceFromLightness } from "../core/lightness.js";
import { boxBlur } from "./box-blur.js";

/** Radius of the surroundings, as a share of the picture's longer side. */
const RADIUS_SHARE = 0.04;

/**
 * Local contrast: each point's L* moves away from the mean L* of its surroundings by `amount` of their difference (unsharp
 * masking with a wide mask). The mask is three box blurs, near enough a Gaussian (W. M. Wells, "Efficient synthesis of
 * Gaussian filters by cascaded uniform filters", IEEE Trans. PAMI 8(2) (1986), 234–239).
 *
 * @param luminance linear, 0..1, row-major; changed in place
 */
export function addLocalContrast(
  luminance: Float32Array,
  columns: number,
  rows: number,
  amount: number,
): void {
  if (amount === 0) return;
  const lightness = luminance.map(lightnessFromLuminance);
  const radiusPx = Math.max(1, Math.round(Math.max(columns, rows) * RADIUS_SHARE));
  let mean: Float32Array = lightness;
  for (let pass = 0; pass < 3; pass++) mean = boxBlur(mean, columns, rows, Math.ceil(radiusPx / 3));
  for (let i = 0; i < luminance.length; i++) {
    const moved = lightness[i] + amount * (lightness[i] - mean[i]);
    luminance[i] = luminanceFromLightness(Math.min(100, Math.max(0, moved)));
  }
}
