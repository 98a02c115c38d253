/**
 * Transpose eight rows of eight 16-bit numbers. Row r is read from `first` + r · `stride`, and eight vectors, the first of which
 * holds the first number of each row, are written from `to` on.
 */
export function transpose8(
  row0: v128,
  row1: v128,
  row2: v128,
  row3: v128,
  row4: v128,
  row5: v128,
  row6: v128,
  row7: v128,
  to: usize,
): void {
  // Pairs of rows, then of pairs, then of fours: low halves, then high halves.
  const a0 = i16x8.shuffle(row0, row1, 0, 8, 1, 9, 2, 10, 3, 11);
  const a1 = i16x8.shuffle(row2, row3, 0, 8, 1, 9, 2, 10, 3, 11);
  const a2 = i16x8.shuffle(row4, row5, 0, 8, 1, 9, 2, 10, 3, 11);
  const a3 = i16x8.shuffle(row6, row7, 0, 8, 1, 9, 2, 10, 3, 11);
  const b0 = i16x8.shuffle(row0, row1, 4, 12, 5, 13, 6, 14, 7, 15);
  const b1 = i16x8.shuffle(row2, row3, 4, 12, 5, 13, 6, 14, 7, 15);
  const b2 = i16x8.shuffle(row4, row5, 4, 12, 5, 13, 6, 14, 7, 15);
  const b3 = i16x8.shuffle(row6, row7, 4, 12, 5, 13, 6, 14, 7, 15);
  const c0 = i32x4.shuffle(a0, a1, 0, 4, 1, 5);
  const c1 = i32x4.shuffle(a2, a3, 0, 4, 1, 5);
  const c2 = i32x4.shuffle(a0, a1, 2, 6, 3, 7);
  const c3 = i32x4.shuffle(a2, a3, 2, 6, 3, 7);
  const d0 = i32x4.shuffle(b0, b1, 0, 4, 1, 5);
  const d1 = i32x4.shuffle(b2, b3, 0, 4, 1, 5);
  const d2 = i32x4.shuffle(b0, b1, 2, 6, 3, 7);
  const d3 = i32x4.shuffle(b2, b3, 2, 6, 3, 7);
  v128.store(to, i64x2.shuffle(c0, c1, 0, 2));
  v128.store(to, i64x2.shuffle(c0, c1, 1, 3), 16);
  v128.store(to, i64x2.shuffle(c2, c3, 0, 2), 32);
  v128.store(to, i64x2.shuffle(c2, c3, 1, 3), 48);
  v128.store(to, i64x2.shuffle(d0, d1, 0, 2), 64);
  v128.store(to, i64x2.shuffle(d0, d1, 1, 3), 80);
  v128.store(to, i64x2.shuffle(d2, d3, 0, 2), 96);
  v128.store(to, i64x2.shuffle(d2, d3, 1, 3), 112);
}
