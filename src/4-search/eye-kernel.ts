import type { Pitch } from "../core/plane.js";
import type { EyeKernel } from "./search-model.js";

/** Beyond five times its width the kernel falls below 0.8 % of its peak. What is left out is found when a pass begins. */
const WIDTHS = 5;

/** Width a of the kernel on the work, in mm. @param decayPerMm of the eye's modulation, in cycles per mm */
export const eyeWidthMm = (decayPerMm: number): number => 1 / (Math.PI * decayPerMm);

/**
 * The eye's modulation exp(−f/decay), twice, as a kernel on the work. The spectrum exp(−2πa·f) in two dimensions is the kernel
 * a / (2π (a² + r²)^1.5): the Poisson kernel of the half space (E. M. Stein, G. Weiss, Introduction to Fourier Analysis on
 * Euclidean Spaces, 1971, ch. I; from memory).
 *
 * @param decayPerMm of the eye's modulation on the work, in cycles per mm
 * @param box pixels of the largest change: the kernel reaches from side to side of it
 */
export function eyeKernel(
  { alongMm, acrossMm }: Pitch,
  decayPerMm: number,
  box: { readonly along: number; readonly across: number },
): EyeKernel {
  const widthMm = eyeWidthMm(decayPerMm);
  const reachAlong = Math.max(box.along, Math.ceil((WIDTHS * widthMm) / alongMm));
  const reachAcross = Math.max(box.across, Math.ceil((WIDTHS * widthMm) / acrossMm));
  const length = (reachAlong + 1) * (reachAcross + 1);
  const [seen, seenRight, seenDown] = [length, length, length].map((size) => new Float64Array(size));
  for (let y = 0, k = 0; y <= reachAcross; y++) {
    for (let x = 0; x <= reachAlong; x++, k++) {
      const square = widthMm ** 2 + (x * alongMm) ** 2 + (y * acrossMm) ** 2;
      seen[k] = (alongMm * acrossMm * widthMm) / (2 * Math.PI * square ** 1.5);
      seenRight[k] = (3 * seen[k] * x * alongMm ** 2) / square;
      seenDown[k] = (3 * seen[k] * y * acrossMm ** 2) / square;
    }
  }
  return { reachAlong, reachAcross, seen, seenRight, seenDown };
}
