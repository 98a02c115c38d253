/**
 * CIE 1976 lightness of luminance factors. Negative factors count as 0.
 *
 * The cube root starts from the exponent divided by 3 and takes two steps of Halley's iteration. Each step cubes the
 * error: 3 % at the start, single precision at the end.
 *
 * @param luminance [count] float32
 * @param out [count] float32; written up to a whole multiple of 4
 */
export function lightnessRow(luminance: usize, out: usize, count: i32): void {
  const knee = f32x4.splat(<f32>(216.0 / 24389.0));
  const slope = f32x4.splat(<f32>(24389.0 / 27.0));
  const none = f32x4.splat(0);
  const third = i32x4.splat(21845);
  const offset = i32x4.splat(0x2a5119f5);
  const scale = f32x4.splat(116);
  const shift = f32x4.splat(16);
  for (let end = out + ((<usize>count) << 2); out < end; out += 16, luminance += 16) {
    const y = f32x4.pmax(none, v128.load(luminance));
    const twice = f32x4.add(y, y);
    let root = i32x4.add(i32x4.shr_s(i32x4.mul(i32x4.shr_s(y, 14), third), 2), offset);
    let cube = f32x4.mul(f32x4.mul(root, root), root);
    root = f32x4.mul(root, f32x4.div(f32x4.add(cube, twice), f32x4.add(f32x4.add(cube, cube), y)));
    cube = f32x4.mul(f32x4.mul(root, root), root);
    root = f32x4.mul(root, f32x4.div(f32x4.add(cube, twice), f32x4.add(f32x4.add(cube, cube), y)));
    const curved = f32x4.sub(f32x4.mul(scale, root), shift);
    v128.store(out, v128.bitselect(curved, f32x4.mul(slope, y), f32x4.gt(y, knee)));
  }
}

/**
 * Adds the differences a − b and their squares to running sums. Each sum has four parts: part n takes every fourth value from n
 * on.
 *
 * @param a, b [count] float32, read up to a whole multiple of 4
 * @param sums [8] float64: four of the differences, four of their squares
 */
export function addDifferences(a: usize, b: usize, count: i32, sums: usize): void {
  let sum01 = v128.load(sums);
  let sum23 = v128.load(sums, 16);
  let squares01 = v128.load(sums, 32);
  let squares23 = v128.load(sums, 48);
  const places = i32x4(0, 1, 2, 3);
  for (; count > 0; count -= 4, a += 16, b += 16) {
    const inside = i32x4.gt_s(i32x4.splat(count), places);
    const difference = v128.and(f32x4.sub(v128.load(a), v128.load(b)), inside);
    const d01 = f64x2.promote_low_f32x4(difference);
    const d23 = f64x2.promote_low_f32x4(v128.shuffle<i64>(difference, difference, 1, 0));
    sum01 = f64x2.add(sum01, d01);
    sum23 = f64x2.add(sum23, d23);
    squares01 = f64x2.add(squares01, f64x2.mul(d01, d01));
    squares23 = f64x2.add(squares23, f64x2.mul(d23, d23));
  }
  v128.store(sums, sum01);
  v128.store(sums, sum23, 16);
  v128.store(sums, squares01, 32);
  v128.store(sums, squares23, 48);
}
