import { refusal } from "../core/refusals/refusals.js";
import { type FilterDefinition, filterDefinitions, type ResampleFilter } from "./filters.js";

/** The filter of one axis as data: the samples and weights of each output pixel. */
export interface Taps {
  readonly outputLength: number;
  /** [outputLength] index of the first source sample of each output pixel; never decreases. */
  readonly first: Int32Array;
  /** [outputLength] number of samples of each output pixel, at least 1; `first + counts` never decreases. */
  readonly counts: Int32Array;
  /** Weights stored per output pixel: the largest count. */
  readonly stride: number;
  /**
   * [outputLength, stride] row-major: the weight of sample `first[i] + k` is `weights[i * stride + k]`, 0 for k at or
   * above `counts[i]`. Each row sums to 1.
   */
  readonly weights: Float64Array;
}

/** Allowance for rounding of a window, in source pixels; far below any visible effect. */
const WINDOW_TOLERANCE_PX = 1e-9;

/**
 * Plan the taps that map the interval [start, end) of an axis of `sourceLength` samples onto `outputLength` pixels.
 * Positions are in source pixels from the outer edge of the first one: sample j is centred on j + 0.5, output pixel i
 * on start + (i + 0.5)·scale, with scale = (end − start)/outputLength, so nothing shifts in either direction.
 *
 * For reduction (scale > 1) the filter is stretched by the scale, so it averages over the area of an output pixel. For enlargement
 * it keeps its width (D. Schumacher, "General filtered image rescaling", in D. Kirk (ed.), Graphics Gems III, 8-16, 1992).
 * Samples around the interval are used if the source has them. Beyond the edge of the picture there are none, and the remaining
 * weights are scaled up. A mapping of whole pixels onto whole pixels is a copy, even with a filter that smooths.
 *
 * Throws `INTERNAL` if a length is not a whole number above 0, or the interval is empty or leaves the source.
 */
export function planTaps(
  filter: ResampleFilter,
  sourceLength: number,
  start: number,
  end: number,
  outputLength: number,
): Taps {
  checkAxis(sourceLength, start, end, outputLength);
  if (isCopy(start, end, outputLength)) return copyTaps(Math.round(start), outputLength);

  const definition = filterDefinitions[filter];
  const scale = (end - start) / outputLength;
  const stretch = Math.max(1, scale);
  const first = new Int32Array(outputLength);
  const counts = new Int32Array(outputLength);
  for (let i = 0; i < outputLength; i++) {
    const centre = start + (i + 0.5) * scale;
    const [from, to] = samplesWithin(definition, centre, stretch, sourceLength);
    first[i] = from;
    counts[i] = to - from + 1;
  }

  const stride = counts.reduce((a, b) => Math.max(a, b), 1);
  const weights = new Float64Array(outputLength * stride);
  for (let i = 0; i < outputLength; i++) {
    const offset = start + (i + 0.5) * scale - first[i] - 0.5;
    const row = weights.subarray(i * stride, i * stride + counts[i]);
    let sum = 0;
    for (let k = 0; k < row.length; k++) {
      row[k] = definition.weight((k - offset) / stretch);
      sum += row[k];
    }
    for (let k = 0; k < row.length; k++) row[k] /= sum;
  }
  return { outputLength, first, counts, stride, weights };
}

/** First and last sample, both included, that lie in the picture and within the filter's reach of `centre`. */
function samplesWithin(
  { support, weight }: FilterDefinition,
  centre: number,
  stretch: number,
  sourceLength: number,
): [from: number, to: number] {
  const reach = support * stretch;
  const isBeyond = (sample: number): boolean => {
    const distance = (sample + 0.5 - centre) / stretch;
    return Math.abs(distance) >= support && weight(distance) === 0;
  };
  let from = Math.max(0, Math.floor(centre - reach - 0.5));
  let to = Math.min(sourceLength - 1, Math.ceil(centre + reach - 0.5));
  while (from < to && isBeyond(from)) from++;
  while (to > from && isBeyond(to)) to--;
  return [from, to];
}

/** Whether an interval maps whole pixels onto whole pixels. */
export function isCopy(start: number, end: number, outputLength: number): boolean {
  const drift = Math.max(Math.abs(end - start - outputLength), Math.abs(start - Math.round(start)));
  return drift <= WINDOW_TOLERANCE_PX;
}

function copyTaps(start: number, outputLength: number): Taps {
  const first = Int32Array.from({ length: outputLength }, (_, i) => start + i);
  const counts = new Int32Array(outputLength).fill(1);
  const weights = new Float64Array(outputLength).fill(1);
  return { outputLength, first, counts, stride: 1, weights };
}

function checkAxis(sourceLength: number, start: number, end: number, outputLength: number): void {
  const whole = Number.isSafeInteger(sourceLength) && Number.isSafeInteger(outputLength);
  const inside =
    start >= -WINDOW_TOLERANCE_PX * sourceLength && end <= sourceLength * (1 + WINDOW_TOLERANCE_PX);
  if (whole && sourceLength > 0 && outputLength > 0 && end > start && inside) return;
  throw refusal("samples-not-mappable", { start, end, samples: sourceLength, pixels: outputLength });
}
