import type { Plane } from "../../core/plane.js";
import { type Lines, rowsAndColumns } from "./lines.js";

/** Number of measured rows and columns, evenly spread. */
const LINES = 240;
/** Spread of the second blur, in pixels. */
const SECOND_SIGMA = 2;
/** Minimum slope of an edge that counts, as a share of the full range per pixel. */
const MIN_SLOPE = 0.02;
/**
 * Only this share of the edges counts, the steepest; the result is this quantile of their widths. Much of a photo may be out of
 * focus.
 */
const STEEPEST = 0.3;
const SHARPEST = 0.25;
/** With fewer edges the blur cannot be measured. */
const MIN_EDGES = 40;

/**
 * Blur of a picture's sharpest edges, as the spread σ of a Gaussian in pixels; undefined if there are too few edges.
 *
 * An edge of spread σ blurred once more with σ₀ loses slope by the factor R = √(1 + σ₀²/σ²), whatever its contrast, so that
 * σ = σ₀/√(R² − 1) (S. Zhuo, T. Sim, "Defocus map estimation from a single image", Pattern Recognition 44, 2011; from memory).
 * It is measured along rows and along columns, and the worse one counts: a moving camera blurs one direction only. The slope is
 * a central difference, whose own variance of 1/3 is subtracted.
 */
export function blurSigmaPx(light: Plane<"encoded-luminance", Uint16Array>): number | undefined {
  const [along, across] = rowsAndColumns(light).map(lineBlur);
  if (along === undefined || across === undefined) return along ?? across;
  return Math.max(along, across);
}

/** Blur along lines; undefined if there are too few edges. */
function lineBlur({ codes, count, length, lineStep, step }: Lines): number | undefined {
  const kernel = gaussianKernel(SECOND_SIGMA);
  const reach = (kernel.length - 1) / 2;
  if (length <= 2 * reach + 4) return;
  const slope = new Float32Array(length);
  const edges: { slope: number; sigma: number }[] = [];
  const every = Math.max(1, Math.floor(count / LINES));
  for (let line = every >> 1; line < count; line += every) {
    const start = line * lineStep;
    for (let i = 1; i < length - 1; i++) {
      slope[i] = (codes[start + (i + 1) * step] - codes[start + (i - 1) * step]) / (2 * 65535);
    }
    for (let i = reach + 1; i < length - reach - 1; i++) {
      const here = Math.abs(slope[i]);
      if (here < MIN_SLOPE || here < Math.abs(slope[i - 1]) || here <= Math.abs(slope[i + 1])) continue;
      let blurred = 0;
      for (let k = 0; k < kernel.length; k++) blurred += kernel[k] * slope[i + k - reach];
      const ratio = here / Math.abs(blurred);
      if (ratio <= 1) continue;
      const variance = SECOND_SIGMA ** 2 / (ratio * ratio - 1) - 1 / 3;
      edges.push({ slope: here, sigma: Math.sqrt(Math.max(0, variance)) });
    }
  }
  if (edges.length < MIN_EDGES) return;
  const steepest = edges.sort((a, b) => b.slope - a.slope).slice(0, Math.ceil(edges.length * STEEPEST));
  const sigmas = Float64Array.from(steepest, ({ sigma }) => sigma).sort();
  return sigmas[Math.floor(sigmas.length * SHARPEST)];
}

function gaussianKernel(sigma: number): Float64Array {
  const reach = Math.ceil(3 * sigma);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)),
  );
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return weights.map((weight) => weight / sum);
}
