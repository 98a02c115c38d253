/**
 * The non-decreasing sequence nearest to `values` in least squares, by pooling adjacent violators: M. Ayer, H. D. Brunk,
 * G. M. Ewing, W. T. Reid and E. Silverman, "An empirical distribution function for sampling with incomplete information",
 * Ann. Math. Statist. 26 (1955), 641–647.
 */
export function isotonicRegression(values: ArrayLike<number>): Float64Array {
  const means: number[] = [];
  const sizes: number[] = [];
  for (let i = 0; i < values.length; i++) {
    let mean = values[i];
    let size = 1;
    while (means.length > 0 && means[means.length - 1] > mean) {
      const pooled = sizes.pop() ?? 0;
      mean = (mean * size + (means.pop() ?? 0) * pooled) / (size + pooled);
      size += pooled;
    }
    means.push(mean);
    sizes.push(size);
  }
  const out = new Float64Array(values.length);
  let at = 0;
  means.forEach((mean, block) => {
    out.fill(mean, at, at + sizes[block]);
    at += sizes[block];
  });
  return out;
}
