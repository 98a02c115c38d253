/**
 * Looks up the wanted luminance factor and the burn fraction of each pixel.
 *
 * @param codes u16 [columns]
 * @param table by code: f32 wanted luminance factor, f32 burn fraction in codes of 1/16384
 * @param pairs f32 [columns × 2], the two side by side
 * @param own f32 [columns], the burn fraction; −1 for the code `bare`, 65536 more for the code `solid`
 */
export function burnPairs(
  codes: usize,
  table: usize,
  bare: u32,
  solid: u32,
  columns: i32,
  pairs: usize,
  own: usize,
): void {
  const end = codes + ((<usize>columns) << 1);
  for (; codes < end; codes += 2, pairs += 8, own += 4) {
    const code = <u32>load<u16>(codes);
    const entry = table + ((<usize>code) << 3);
    store<u64>(pairs, load<u64>(entry));
    const fraction = load<f32>(entry, 4);
    store<f32>(own, select<f32>(-1, select<f32>(fraction + 65536, fraction, code == solid), code == bare));
  }
}

/** Burn fractions by code: i16 [columns] from the table i16 [65536]. */
export function burnCodes(codes: usize, table: usize, columns: i32, out: usize): void {
  const end = codes + ((<usize>columns) << 1);
  for (; codes < end; codes += 2, out += 2) {
    store<i16>(out, load<i16>(table + ((<usize>load<u16>(codes)) << 1)));
  }
}

/**
 * Adds runs of pixels to the cells of a coarser row.
 *
 * @param pairs f32 [columns × 2]
 * @param run pixels per cell
 * @param cells f32 [cells × 2], added to
 */
export function addRuns(pairs: usize, run: i32, cells: i32, sums: usize): void {
  const end = sums + ((<usize>cells) << 3);
  for (; sums < end; sums += 8) {
    let sum = v128.load64_zero(sums);
    for (let k = 0; k < run; k++, pairs += 8) sum = f32x4.add(sum, v128.load64_zero(pairs));
    v128.store64_lane(sums, sum, 0);
  }
}

/**
 * The texture balance: the burn fraction of the blurred tone, less the blurred burn fraction.
 *
 * @param pairs f32 [cells × 2], blurred: wanted luminance factor, burn fraction
 * @param table f32 burn fraction in equal steps of the luminance factor from `low`
 * @param last last entry of the table
 * @param out f32 [cells]
 */
export function textureBalance(
  pairs: usize,
  table: usize,
  low: f32,
  stepsPerUnit: f32,
  last: f32,
  cells: i32,
  out: usize,
): void {
  const end = pairs + ((<usize>cells) << 3);
  for (; pairs < end; pairs += 8, out += 4) {
    const at = min<f32>(last, max<f32>(0, (load<f32>(pairs) - low) * stepsPerUnit)) + <f32>0.5;
    store<f32>(out, load<f32>(table + ((<usize>(<u32>at)) << 2)) - load<f32>(pairs, 4));
  }
}

/**
 * Adds the balance between two coarse rows to the burn fractions of the pixels.
 *
 * @param own f32 [columns] as `burnPairs` gives them
 * @param upper,lower f32 [columns], the balance at full width
 * @param weight of the lower row
 * @param out i16 [columns], may be overrun by up to 14 bytes
 */
export function balanceRow(own: usize, upper: usize, lower: usize, weight: f32, columns: i32, out: usize): void {
  const w = f32x4.splat(weight);
  const bytes = (<usize>columns) << 2;
  for (let at: usize = 0; at < bytes; at += 32, out += 16) {
    v128.store(
      out,
      i16x8.narrow_i32x4_s(
        balanced(v128.load(own + at), v128.load(upper + at), v128.load(lower + at), w),
        balanced(v128.load(own + at, 16), v128.load(upper + at, 16), v128.load(lower + at, 16), w),
      ),
    );
  }
}

// @ts-expect-error: decorator
@inline
function balanced(own: v128, upper: v128, lower: v128, weight: v128): v128 {
  const zero = f32x4.splat(0);
  const one = f32x4.splat(16384);
  const added = f32x4.add(upper, f32x4.mul(weight, f32x4.sub(lower, upper)));
  const isSolid = f32x4.ge(own, f32x4.splat(32768));
  const fraction = v128.bitselect(
    f32x4.sub(own, f32x4.splat(65536)),
    f32x4.min(one, f32x4.max(zero, f32x4.add(own, added))),
    isSolid,
  );
  const code = i32x4.trunc_sat_f32x4_s(f32x4.add(fraction, f32x4.splat(0.5)));
  return v128.bitselect(i32x4.splat(-1), code, f32x4.lt(own, zero));
}


/**
 * Interpolates a coarse row to pixels, linear between the middles of its cells.
 *
 * @param cells f32, with one more before the first and after the last
 * @param share f32 [run], by place in the cell: weight of the later of the two cells around that place
 * @param early number of places before the middle of a cell; they lie between this cell and the one before
 * @param out f32 [count × run]
 */
export function spreadCells(cells: usize, share: usize, run: i32, early: i32, count: i32, out: usize): void {
  for (let i = 0; i < count; i++, cells += 4) {
    const before = load<f32>(cells);
    const here = load<f32>(cells, 4);
    const after = load<f32>(cells, 8);
    for (let p = 0; p < run; p++, out += 4) {
      const t = load<f32>(share + ((<usize>p) << 2));
      store<f32>(out, p < early ? before + t * (here - before) : here + t * (after - here));
    }
  }
}
