/**
 * Adds the response to each of a pixel's samples: out[x] += Σ_s value[i] + rise[i] · (at − i), where
 * at = min(dose[s][x] · scale, last) and i = at − ½ rounded, so that at − i lies within 0..1.
 *
 * @param dose [samples × stride] float32: one row for each sample of a pixel
 * @param table [steps × 2] float32: value at the step's start, rise to its end
 * @param out [columns] float32; written up to a whole multiple of 4
 */
export function addResponse(
  dose: usize,
  samples: i32,
  stride: i32,
  table: usize,
  scale: f32,
  last: f32,
  out: usize,
  columns: i32,
): void {
  const scales = f32x4.splat(scale);
  const lasts = f32x4.splat(last);
  const half = f32x4.splat(0.5);
  // Adding 1.5 · 2²³ rounds a float32 to a whole number in its low bits.
  const rounder = f32x4.splat(12582912);
  const base = i32x4.splat(<i32>table - (0x4b400000 << 3));
  const rowBytes = (<usize>stride) << 2;
  const endOfSamples = rowBytes * <usize>samples;
  for (let end = out + ((<usize>columns) << 2); out < end; out += 16, dose += 16) {
    let sum = f32x4.splat(0);
    for (let from = dose, past = dose + endOfSamples; from < past; from += rowBytes) {
      const at = f32x4.pmin(f32x4.mul(v128.load(from), scales), lasts);
      const coded = f32x4.add(f32x4.sub(at, half), rounder);
      const part = f32x4.sub(at, f32x4.sub(coded, rounder));
      const entry = i32x4.add(i32x4.shl(coded, 3), base);
      let low = v128.load64_zero(i32x4.extract_lane(entry, 0));
      low = v128.load64_lane(i32x4.extract_lane(entry, 1), low, 1);
      let high = v128.load64_zero(i32x4.extract_lane(entry, 2));
      high = v128.load64_lane(i32x4.extract_lane(entry, 3), high, 1);
      const value = v128.shuffle<f32>(low, high, 0, 2, 4, 6);
      const rise = v128.shuffle<f32>(low, high, 1, 3, 5, 7);
      sum = f32x4.add(sum, f32x4.add(value, f32x4.mul(rise, part)));
    }
    v128.store(out, f32x4.add(v128.load(out), sum));
  }
}

/** row[i] *= factor; written up to a whole multiple of 4. */
export function scaleRow(row: usize, factor: f32, count: i32): void {
  const f = f32x4.splat(factor);
  for (let end = row + ((<usize>count) << 2); row < end; row += 16) {
    v128.store(row, f32x4.mul(v128.load(row), f));
  }
}
