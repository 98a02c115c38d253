/**
 * Weighted sum of rows, clamped to bounds.
 *
 * @param rows i32 [count] addresses of f32 rows
 * @param weights f32 [count]
 * @param out f32 [values], may be overrun by up to 60 bytes
 */
export function sumRows(
  rows: usize,
  weights: usize,
  count: i32,
  values: i32,
  minimum: f32,
  maximum: f32,
  out: usize,
): void {
  const low = f32x4.splat(minimum);
  const high = f32x4.splat(maximum);
  const rowsEnd = rows + ((<usize>count) << 2);
  const bytes = (<usize>values) << 2;
  for (let at: usize = 0; at < bytes; at += 64) {
    let a = f32x4.splat(0);
    let b = a;
    let c = a;
    let d = a;
    for (let row = rows, weight = weights; row < rowsEnd; row += 4, weight += 4) {
      const w = v128.load32_splat(weight);
      const from = <usize>load<u32>(row) + at;
      a = f32x4.add(a, f32x4.mul(w, v128.load(from)));
      b = f32x4.add(b, f32x4.mul(w, v128.load(from, 16)));
      c = f32x4.add(c, f32x4.mul(w, v128.load(from, 32)));
      d = f32x4.add(d, f32x4.mul(w, v128.load(from, 48)));
    }
    v128.store(out + at, f32x4.min(high, f32x4.max(low, a)));
    v128.store(out + at, f32x4.min(high, f32x4.max(low, b)), 16);
    v128.store(out + at, f32x4.min(high, f32x4.max(low, c)), 32);
    v128.store(out + at, f32x4.min(high, f32x4.max(low, d)), 48);
  }
}

/**
 * Weighted sum of the values around each value of a row: out[i] = Σ weights[k] · row[i + k·step].
 *
 * @param row f32, starting `count/2` steps before the first value
 * @param weights f32 [count]
 * @param out f32 [values], may be overrun by up to 60 bytes
 */
export function sumAlong(row: usize, weights: usize, count: i32, step: i32, values: i32, out: usize): void {
  const weightsEnd = weights + ((<usize>count) << 2);
  const stepBytes = (<usize>step) << 2;
  const bytes = (<usize>values) << 2;
  for (let at: usize = 0; at < bytes; at += 64) {
    let a = f32x4.splat(0);
    let b = a;
    let c = a;
    let d = a;
    let from = row + at;
    for (let weight = weights; weight < weightsEnd; weight += 4, from += stepBytes) {
      const w = v128.load32_splat(weight);
      a = f32x4.add(a, f32x4.mul(w, v128.load(from)));
      b = f32x4.add(b, f32x4.mul(w, v128.load(from, 16)));
      c = f32x4.add(c, f32x4.mul(w, v128.load(from, 32)));
      d = f32x4.add(d, f32x4.mul(w, v128.load(from, 48)));
    }
    v128.store(out + at, a);
    v128.store(out + at, b, 16);
    v128.store(out + at, c, 32);
    v128.store(out + at, d, 48);
  }
}
