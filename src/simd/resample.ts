/**
 * Resamples four source rows along the row at once: each output is the weighted sum of `stride` samples from `first[i]` on.
 *
 * @param rows four rows, interleaved pixel by pixel: f32 [samples × 4]
 * @param first i32 [outputs], a multiple of four outputs
 * @param weights f32 [outputs × stride]
 * @param out four rows of f32, `outStride` bytes apart
 */
export function convolveFour(
  rows: usize,
  first: usize,
  weights: usize,
  stride: i32,
  outputs: i32,
  out: usize,
  outStride: usize,
): void {
  for (let i = 0; i < outputs; i += 4) {
    const a = weightedSamples(rows, load<i32>(first), weights, stride);
    weights += (<usize>stride) << 2;
    const b = weightedSamples(rows, load<i32>(first, 4), weights, stride);
    weights += (<usize>stride) << 2;
    const c = weightedSamples(rows, load<i32>(first, 8), weights, stride);
    weights += (<usize>stride) << 2;
    const d = weightedSamples(rows, load<i32>(first, 12), weights, stride);
    weights += (<usize>stride) << 2;
    const ab01 = i32x4.shuffle(a, b, 0, 4, 1, 5);
    const ab23 = i32x4.shuffle(a, b, 2, 6, 3, 7);
    const cd01 = i32x4.shuffle(c, d, 0, 4, 1, 5);
    const cd23 = i32x4.shuffle(c, d, 2, 6, 3, 7);
    v128.store(out, i64x2.shuffle(ab01, cd01, 0, 2));
    v128.store(out + outStride, i64x2.shuffle(ab01, cd01, 1, 3));
    v128.store(out + 2 * outStride, i64x2.shuffle(ab23, cd23, 0, 2));
    v128.store(out + 3 * outStride, i64x2.shuffle(ab23, cd23, 1, 3));
    first += 16;
    out += 16;
  }
}

// @ts-expect-error: decorator
@inline
function weightedSamples(rows: usize, first: i32, weights: usize, stride: i32): v128 {
  let sum = f32x4.splat(0);
  let sample = rows + ((<usize>first) << 4);
  const end = weights + ((<usize>stride) << 2);
  for (; weights < end; weights += 4, sample += 16) {
    sum = f32x4.add(sum, f32x4.mul(v128.load32_splat(weights), v128.load(sample)));
  }
  return sum;
}
