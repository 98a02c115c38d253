/**
 * Converts source codes to linear luminance, for one of several interleaved rows.
 *
 * @param codes u16 [columns]
 * @param table f32 [65536]
 * @param out f32, one every `stepBytes`; a negative step mirrors the row
 */
export function luminanceFromCodes(
  codes: usize,
  table: usize,
  columns: i32,
  out: usize,
  stepBytes: i32,
): void {
  const end = codes + ((<usize>columns) << 1);
  for (; codes < end; codes += 2, out += stepBytes) {
    store<f32>(out, load<f32>(table + ((<usize>load<u16>(codes)) << 2)));
  }
}

/** Codes of luminance, u16 [columns], from f32 [columns] within 0..1; `out` may be overrun by up to 14 bytes. */
export function codesFromLuminance(row: usize, columns: i32, out: usize): void {
  const scale = f32x4.splat(65535);
  const half = f32x4.splat(0.5);
  const end = row + ((<usize>columns) << 2);
  for (; row < end; row += 32, out += 16) {
    const a = i32x4.trunc_sat_f32x4_s(f32x4.add(f32x4.mul(v128.load(row), scale), half));
    const b = i32x4.trunc_sat_f32x4_s(f32x4.add(f32x4.mul(v128.load(row, 16), scale), half));
    v128.store(out, i16x8.narrow_i32x4_u(a, b));
  }
}
