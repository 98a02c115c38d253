/**
 * Offsets into tables of 16-byte entries, one for each window of eight bits that starts at `firstBit` + 4·n, n < 2·pairs:
 * (window · 16) & mask, or (window & mask) for tables of half a byte.
 *
 * @param bits packed row, leftmost pixel in the highest bit; read to three bytes past the last window
 * @param halves 1 for tables of four bits, 0 for tables of eight
 * @param out [2 · pairs] int32
 */
export function windowOffsets(bits: usize, firstBit: i32, pairs: i32, halves: i32, out: usize): void {
  const even = 16 - (firstBit & 7);
  const odd = even - 4;
  const shift = halves ? 0 : 4;
  const mask = halves ? 0xf0 : 0xff0;
  let at = bits + (firstBit >> 3);
  let word = ((<i32>load<u8>(at)) << 8) | <i32>load<u8>(at, 1);
  for (let end = out + ((<usize>pairs) << 3); out < end; out += 8, at++) {
    word = ((word << 8) | <i32>load<u8>(at, 2)) & 0xffffff;
    store<i32>(out, ((word >> even) << shift) & mask);
    store<i32>(out, ((word >> odd) << shift) & mask, 4);
  }
}

/**
 * Dose along one line: for each group of four pixels the sum of one table entry per part of its window.
 *
 * @param offsets int32, one for each group and beyond; part j of group g takes offsets[g + j · stride]
 * @param parts number of tables in sequence, `tableBytes` bytes each
 * @param out [4 · groups] float32
 */
export function sumTables(
  offsets: usize,
  groups: i32,
  tables: usize,
  parts: i32,
  tableBytes: i32,
  stride: i32,
  out: usize,
): void {
  const step = (<usize>stride) << 2;
  const end = offsets + ((<usize>groups) << 2);
  if (parts === 1) {
    for (; offsets < end; offsets += 4, out += 16) v128.store(out, v128.load(tables + load<usize>(offsets)));
    return;
  }
  const second = tables + tableBytes;
  if (parts === 2) {
    for (; offsets < end; offsets += 4, out += 16) {
      const a = v128.load(tables + load<usize>(offsets));
      const b = v128.load(second + load<usize>(offsets + step));
      v128.store(out, f32x4.add(a, b));
    }
    return;
  }
  const last = second + <usize>(parts - 2) * tableBytes;
  for (; offsets < end; offsets += 4, out += 16) {
    let sum = f32x4.add(
      v128.load(tables + load<usize>(offsets)),
      v128.load(second + load<usize>(offsets + step)),
    );
    let at = offsets + 2 * step;
    for (let table = second + tableBytes; table <= last; table += tableBytes, at += step) {
      sum = f32x4.add(sum, v128.load(table + load<usize>(at)));
    }
    v128.store(out, sum);
  }
}

/**
 * Weighted sum of rows: out[i] = Σ_k weights[k] · rows[k][i], k rising, from 0.
 *
 * @param rows [count] addresses of float32 rows
 * @param weights [count] float32
 * @param length of the rows; written up to a whole multiple of 16
 */
export function weighRows1(rows: usize, weights: usize, count: i32, out: usize, length: i32): void {
  const end = rows + ((<usize>count) << 2);
  const bytes = (<usize>length) << 2;
  for (let i: usize = 0; i < bytes; i += 64) {
    let a0 = f32x4.splat(0);
    let a1 = f32x4.splat(0);
    let a2 = f32x4.splat(0);
    let a3 = f32x4.splat(0);
    for (let row = rows, weight = weights; row < end; row += 4, weight += 4) {
      const from = load<usize>(row) + i;
      const w = v128.load32_splat(weight);
      a0 = f32x4.add(a0, f32x4.mul(w, v128.load(from)));
      a1 = f32x4.add(a1, f32x4.mul(w, v128.load(from, 16)));
      a2 = f32x4.add(a2, f32x4.mul(w, v128.load(from, 32)));
      a3 = f32x4.add(a3, f32x4.mul(w, v128.load(from, 48)));
    }
    const to = out + i;
    v128.store(to, a0);
    v128.store(to, a1, 16);
    v128.store(to, a2, 32);
    v128.store(to, a3, 48);
  }
}

/** Two sums at once, written up to a whole multiple of 8; weights [count × 2]. The second sum starts `apart` bytes after the first. */
export function weighRows2(
  rows: usize,
  weights: usize,
  count: i32,
  out: usize,
  apart: usize,
  length: i32,
): void {
  const end = rows + ((<usize>count) << 2);
  const bytes = (<usize>length) << 2;
  for (let i: usize = 0; i < bytes; i += 32) {
    let a0 = f32x4.splat(0);
    let a1 = f32x4.splat(0);
    let b0 = f32x4.splat(0);
    let b1 = f32x4.splat(0);
    for (let row = rows, weight = weights; row < end; row += 4, weight += 8) {
      const from = load<usize>(row) + i;
      const r0 = v128.load(from);
      const r1 = v128.load(from, 16);
      const wa = v128.load32_splat(weight);
      const wb = v128.load32_splat(weight, 4);
      a0 = f32x4.add(a0, f32x4.mul(wa, r0));
      a1 = f32x4.add(a1, f32x4.mul(wa, r1));
      b0 = f32x4.add(b0, f32x4.mul(wb, r0));
      b1 = f32x4.add(b1, f32x4.mul(wb, r1));
    }
    const to = out + i;
    v128.store(to, a0);
    v128.store(to, a1, 16);
    v128.store(to + apart, b0);
    v128.store(to + apart, b1, 16);
  }
}

/** Three sums at once, written up to a whole multiple of 8; weights [count × 3]. */
export function weighRows3(
  rows: usize,
  weights: usize,
  count: i32,
  out: usize,
  apart: usize,
  length: i32,
): void {
  const end = rows + ((<usize>count) << 2);
  const bytes = (<usize>length) << 2;
  for (let i: usize = 0; i < bytes; i += 32) {
    let a0 = f32x4.splat(0);
    let a1 = f32x4.splat(0);
    let b0 = f32x4.splat(0);
    let b1 = f32x4.splat(0);
    let c0 = f32x4.splat(0);
    let c1 = f32x4.splat(0);
    for (let row = rows, weight = weights; row < end; row += 4, weight += 12) {
      const from = load<usize>(row) + i;
      const r0 = v128.load(from);
      const r1 = v128.load(from, 16);
      const wa = v128.load32_splat(weight);
      const wb = v128.load32_splat(weight, 4);
      const wc = v128.load32_splat(weight, 8);
      a0 = f32x4.add(a0, f32x4.mul(wa, r0));
      a1 = f32x4.add(a1, f32x4.mul(wa, r1));
      b0 = f32x4.add(b0, f32x4.mul(wb, r0));
      b1 = f32x4.add(b1, f32x4.mul(wb, r1));
      c0 = f32x4.add(c0, f32x4.mul(wc, r0));
      c1 = f32x4.add(c1, f32x4.mul(wc, r1));
    }
    const to = out + i;
    v128.store(to, a0);
    v128.store(to, a1, 16);
    v128.store(to + apart, b0);
    v128.store(to + apart, b1, 16);
    v128.store(to + 2 * apart, c0);
    v128.store(to + 2 * apart, c1, 16);
  }
}

/** out[i] += weight · row[i]; written up to a whole multiple of 4. */
export function addScaledRow(out: usize, row: usize, weight: f32, count: i32): void {
  const w = f32x4.splat(weight);
  for (let end = out + ((<usize>count) << 2); out < end; out += 16, row += 16) {
    v128.store(out, f32x4.add(v128.load(out), f32x4.mul(w, v128.load(row))));
  }
}
