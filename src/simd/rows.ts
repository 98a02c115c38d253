/** out[i] += weight · row[i]. Both of whole vectors of four. */
export function addWeighted(out: usize, row: usize, weight: f32, count: i32): void {
  const w = f32x4.splat(weight);
  for (let end = out + ((<usize>count) << 2); out < end; out += 16, row += 16) {
    v128.store(out, f32x4.add(v128.load(out), f32x4.mul(w, v128.load(row))));
  }
}
