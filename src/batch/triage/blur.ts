import { columnsOf, denseData, type Plane, rowsOf } from "../../core/plane.js";

/** Rows and columns looked at, evenly spread. */
const LINES = 240;
/** Spread of the second blur, in pixels. */
const SECOND_SIGMA = 2;
/** Edges count from this share of the full range in contrast. */
const LEAST_SLOPE = 0.02;
/** Of the edges, the steepest; of those, the width that this share stays under: a photo is sharp where it is meant to be. */
const STEEPEST = 0.3;
const SHARPEST = 0.25;
/** Fewer say nothing. */
const LEAST_EDGES = 40;

/**
 * Blur of a picture's sharpest edges, as the spread σ of a Gaussian in pixels; undefined where there are too few edges.
 *
 * An edge of spread σ blurred once more with σ₀ loses slope by the factor R = √(1 + σ₀²/σ²), whatever its contrast, so that
 * σ = σ₀/√(R² − 1) (S. Zhuo, T. Sim, "Defocus map estimation from a single image", Pattern Recognition 44, 2011; from memory).
 * Taken along rows and along columns, and the worse of the two, which a moved camera blurs alone. The slope is a central
 * difference, whose own variance of 1/3 is taken off again.
 */
export function blurSigmaPx(light: Plane<"encoded-luminance", Uint16Array>): number | undefined {
  const codes = denseData(light);
  const [rows, columns] = [rowsOf(light), columnsOf(light)];
  const along = lineBlur(codes, rows, columns, columns, 1);
  const across = lineBlur(codes, columns, rows, 1, columns);
  if (along === undefined || across === undefined) return along ?? across;
  return Math.max(along, across);
}

/** Blur along `lines` lines of `length` samples; `lineStep` and `step` are distances in `codes`. */
function lineBlur(codes: Uint16Array, lines: number, length: number, lineStep: number, step: number) {
  const kernel = gaussianKernel(SECOND_SIGMA);
  const reach = (kernel.length - 1) / 2;
  if (length <= 2 * reach + 4) return;
  const slope = new Float32Array(length);
  const edges: { slope: number; sigma: number }[] = [];
  const every = Math.max(1, Math.floor(lines / LINES));
  for (let line = every >> 1; line < lines; line += every) {
    const start = line * lineStep;
    for (let i = 1; i < length - 1; i++) {
      slope[i] = (codes[start + (i + 1) * step] - codes[start + (i - 1) * step]) / (2 * 65535);
    }
    for (let i = reach + 1; i < length - reach - 1; i++) {
      const here = Math.abs(slope[i]);
      if (here < LEAST_SLOPE || here < Math.abs(slope[i - 1]) || here <= Math.abs(slope[i + 1])) continue;
      let blurred = 0;
      for (let k = 0; k < kernel.length; k++) blurred += kernel[k] * slope[i + k - reach];
      const ratio = here / Math.abs(blurred);
      if (ratio <= 1) continue;
      const variance = SECOND_SIGMA ** 2 / (ratio * ratio - 1) - 1 / 3;
      edges.push({ slope: here, sigma: Math.sqrt(Math.max(0, variance)) });
    }
  }
  if (edges.length < LEAST_EDGES) return;
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
