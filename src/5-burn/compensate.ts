import { gaussianBlur } from "../core/gaussian-blur.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import { lookUp, mapTabulated, type Tabulated } from "../core/tabulated.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";

/**
 * A luminance factor this near the bare surface's asks for none but the bare surface: about what resampling in single
 * precision leaves of an even 1, and under 0.001 L* everywhere.
 */
export const BARE_WITHIN = 1e-6;

/**
 * Burn fractions that make the wanted luminance factors: the inverse tone curve at every pixel, then balanced for texture.
 *
 * The balance is ours. The tone curve is right for flat tints. In texture finer than the spot, the spot averages *dose*,
 * while the eye would have averaged *light*; the curve between the two is bent, so fine texture comes out too dark, or on
 * a steep material too light (by 0.1 to 0.3 L* on photographs at overdrive 4.6, and then it is most of the visual error).
 * Asking that the blurred fractions be those of the blurred target, B·f = f(B·T), and keeping the pixel's own detail,
 * gives f + f(B·T) − B·f.
 *
 * @param burnFor burn fraction by wanted luminance factor
 * @param wanted luminance factors, row-major; not modified
 */
export function compensate(
  burnFor: Tabulated,
  wanted: Float32Array,
  columns: number,
  rows: number,
  pitch: Pitch,
  spot: Spot,
): Float32Array {
  const fractions = mapTabulated(burnFor, wanted);
  const sigmaAlongPx = sigmaMmFromSpotDiameterMm(spot.alongMm) / pitch.alongMm;
  const sigmaAcrossPx = sigmaMmFromSpotDiameterMm(spot.acrossMm) / pitch.acrossMm;
  const wantedBlurred = gaussianBlur(wanted, columns, rows, sigmaAlongPx, sigmaAcrossPx);
  const fractionsBlurred = gaussianBlur(fractions, columns, rows, sigmaAlongPx, sigmaAcrossPx);
  const darkens = lookUp(burnFor, burnFor.low) !== 0;
  const [bare, solid] = darkens ? [burnFor.high, burnFor.low] : [burnFor.low, burnFor.high];
  for (let i = 0; i < fractions.length; i++) {
    // What should stay bare stays bare, and solid solid: no stray dots round a cut-out, no frayed edges of a dark shape.
    if (Math.abs(wanted[i] - bare) <= BARE_WITHIN) {
      fractions[i] = 0;
      continue;
    }
    if (Math.abs(wanted[i] - solid) <= BARE_WITHIN) continue;
    const balanced = fractions[i] + lookUp(burnFor, wantedBlurred[i]) - fractionsBlurred[i];
    fractions[i] = Math.min(1, Math.max(0, balanced));
  }
  return fractions;
}

/**
 * Burn fractions without compensation, as if marks were as large as their pixels and added no dose to their neighbours: the
 * wanted luminance factor's place between bare and solid (Murray, J. Franklin Inst. 221, 721 (1936)).
 */
export function uncompensatedBurn(bare: number, solid: number): (luminanceFactor: number) => number {
  const range = solid - bare;
  return (luminanceFactor) => (range === 0 ? 0 : Math.min(1, Math.max(0, (luminanceFactor - bare) / range)));
}
