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
 * out = a − b
 *
 * @param a, b, out [count] float32; read and written up to a whole multiple of 4
 */
export function subtractRow(a: usize, b: usize, out: usize, count: i32): void {
  for (let end = out + ((<usize>count) << 2); out < end; out += 16, a += 16, b += 16) {
    v128.store(out, f32x4.sub(v128.load(a), v128.load(b)));
  }
}

/**
 * Adds the values a and the products a·b to running sums. Each sum has four parts: part n takes every fourth value from n on.
 *
 * @param a, b [count] float32, read up to a whole multiple of 4
 * @param values, products [4] float64
 */
export function addProducts(a: usize, b: usize, count: i32, values: usize, products: usize): void {
  let sum01 = v128.load(values);
  let sum23 = v128.load(values, 16);
  let products01 = v128.load(products);
  let products23 = v128.load(products, 16);
  const places = i32x4(0, 1, 2, 3);
  for (; count > 0; count -= 4, a += 16, b += 16) {
    const inside = i32x4.gt_s(i32x4.splat(count), places);
    const left = v128.and(v128.load(a), inside);
    const right = v128.and(v128.load(b), inside);
    const a01 = f64x2.promote_low_f32x4(left);
    const a23 = f64x2.promote_low_f32x4(v128.shuffle<i64>(left, left, 1, 0));
    sum01 = f64x2.add(sum01, a01);
    sum23 = f64x2.add(sum23, a23);
    products01 = f64x2.add(products01, f64x2.mul(a01, f64x2.promote_low_f32x4(right)));
    const b23 = f64x2.promote_low_f32x4(v128.shuffle<i64>(right, right, 1, 0));
    products23 = f64x2.add(products23, f64x2.mul(a23, b23));
  }
  v128.store(values, sum01);
  v128.store(values, sum23, 16);
  v128.store(products, products01);
  v128.store(products, products23, 16);
}
