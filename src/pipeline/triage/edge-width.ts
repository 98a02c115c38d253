import { erfc } from "../../core/physics/erf.js";
import { CELL_PX } from "./cell-map.js";

/** Full width at half maximum of a Gaussian over its standard deviation σ. */
const FWHM_PER_SIGMA = 2 * Math.sqrt(2 * Math.LN2);
/** Variance of the mean over a pixel. */
const PIXEL_VARIANCE = 1 / 12;
/** Variance of a central difference over two pixels, as a blur of the slope. */
const DIFFERENCE_VARIANCE = 1 / 3;
/** Wider edges look like an even ramp: they are measured at a coarser scale. */
const WIDEST_PX = 16;
const STEP_PX = 0.1;

/** Gives the blur of an edge, as the full width at half maximum of a Gaussian in pixels, for its slope over its contrast. */
export type EdgeWidth = (slopeOverContrast: number) => number;

/**
 * The blur of an edge follows from its steepest slope over the contrast between the cells on both sides of it, whatever the contrast
 * is. Elder and Zucker find blur from the slope and its distance in the same way (J. H. Elder, S. W. Zucker, "Local scale control for
 * edge detection and blur estimation", IEEE Trans. PAMI 20, 1998; from memory).
 */
export function edgeWidths(): EdgeWidth {
  const slopes = Float64Array.from({ length: WIDEST_PX / STEP_PX + 1 }, (_, i) => slopeOfEdge(i * STEP_PX));
  return (slope) => {
    let [low, high] = [0, slopes.length - 1];
    if (slope >= slopes[low]) return 0;
    if (slope <= slopes[high]) return WIDEST_PX;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (slopes[middle] > slope) low = middle;
      else high = middle;
    }
    return STEP_PX * (low + (slopes[low] - slope) / (slopes[low] - slopes[high]));
  };
}

/** Steepest slope of a blurred step over the difference between the cells on both sides of the cell in which it lies. */
export function slopeOfEdge(fwhmPx: number): number {
  const variance = (fwhmPx / FWHM_PER_SIGMA) ** 2 + PIXEL_VARIANCE;
  const slope = 1 / Math.sqrt(2 * Math.PI * (variance + DIFFERENCE_VARIANCE));
  const scale = Math.sqrt(2 * variance);
  const [near, far] = [CELL_PX / 2 / scale, (1.5 * CELL_PX) / scale];
  const contrast = ((errorIntegral(far) - errorIntegral(near)) * scale) / CELL_PX;
  return slope / contrast;
}

/** ∫ erf from 0. */
const errorIntegral = (x: number): number => x * (1 - erfc(x)) + (Math.exp(-x * x) - 1) / Math.sqrt(Math.PI);
