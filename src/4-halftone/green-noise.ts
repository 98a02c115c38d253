import type { Random } from "../core/random.js";
import type { RowHalftone, Scan } from "./method.js";

/** Share of each filter tap that is redrawn for every pixel, so that no direction is preferred for long. */
const WEIGHT_JITTER = 0.5;

/**
 * Error diffusion with output feedback: burned pixels attract burned pixels, and blanks attract blanks, so dots clump into
 * clusters whose size grows with `clumping` (h). The feedback moves only the decision and is no part of the error, so the
 * mean stays.
 *
 *     u = x + Σ b·e,   burn when u + h·Σ a·(y − x) ≥ 1/2,   e = u − y
 *
 * R. Levien, "Output dependent feedback in error diffusion halftoning", Proc. IS&T 8th Int. Congress on Advances in
 * Non-Impact Printing Technologies (1992/93), 280–282; D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital
 * halftoning", Proc. IEEE 86(12) (1998), 2424–2444 (weight jitter). Both filters look at the pixel behind and the pixel
 * above, one half each before jitter. Ours: the fed-back output is centred on the fraction, so that light and dark tones
 * clump alike.
 */
export function diffuseGreenNoise(
  clumping: number,
  columns: number,
  scan: Scan,
  random: Random,
): RowHalftone {
  const above = { error: new Float64Array(columns), output: new Float64Array(columns) };
  return (fractions, y, bits) => {
    const step = scan === "serpentine" && y % 2 === 1 ? -1 : 1;
    const first = step === 1 ? 0 : columns - 1;
    let errorBehind = 0;
    let outputBehind = 0;
    for (let n = 0, x = first; n < columns; n++, x += step) {
      const behind = 0.5 + WEIGHT_JITTER * (random() - 0.5);
      const wanted = fractions[x] + errorBehind + above.error[x];
      const pull = clumping * (behind * outputBehind + (1 - behind) * above.output[x]);
      const bit = wanted + pull >= 0.5 ? 1 : 0;
      bits[x] = bit;
      const error = wanted - bit;
      errorBehind = error * behind;
      above.error[x] = error - errorBehind;
      outputBehind = bit - fractions[x];
      above.output[x] = outputBehind;
    }
    // What the last pixel would have handed on along the row goes below it instead.
    above.error[step === 1 ? columns - 1 : 0] += errorBehind;
  };
}
