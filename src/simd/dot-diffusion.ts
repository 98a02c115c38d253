/*
 * Dot diffusion on rows split by column of the class matrix ("phases"). The pixels of one class in a row are then neighbours, and
 * four are decided at once. A phase has 32-bit values, a length of `phaseBytes`, and 16 spare bytes before its first and after its
 * last tile. A row is given by the address of the first tile of its first phase.
 */

/** Splits a row of fractions. `bare` gets one word per tile, with a bit for each pixel that must stay bare, leftmost highest. */
export function splitDots(
  fractions: usize,
  columns: i32,
  side: i32,
  wanted: usize,
  phaseBytes: usize,
  bare: usize,
): void {
  let phase = 0;
  let bits = 0;
  let to = wanted;
  for (const end = fractions + ((<usize>columns) << 1); fractions < end; fractions += 2) {
    const fraction = <i32>load<i16>(fractions);
    store<i32>(to, fraction & ~(fraction >> 31));
    bits |= (fraction < 0 ? 1 : 0) << (side - 1 - phase);
    to += phaseBytes;
    if (++phase === side) {
      store<i32>(bare, bits);
      bare += 4;
      wanted += 4;
      to = wanted;
      phase = 0;
      bits = 0;
    }
  }
  if (phase > 0) store<i32>(bare, bits);
}

/**
 * Decides the pixels of one class in one row and passes on their errors.
 *
 * @param wanted address of index 0
 * @param pixelsAt index of the first pixel of the class in the row
 * @param tiles number of pixels; pixels that only fill the last vector pass on nothing
 * @param bits [tiles] i32, gets `bit` if a pixel burns
 * @param targets indices of the later neighbours of the first pixel, i32 each; the last one takes the rest
 * @param weights of the targets, i32 each in 16384ths
 */
export function settleDots(
  wanted: usize,
  pixelsAt: i32,
  tiles: i32,
  bits: usize,
  bit: i32,
  targets: usize,
  weights: usize,
  targetCount: i32,
): void {
  const pixels = wanted + ((<usize>pixelsAt) << 2);
  const threshold = i32x4.splat(8191);
  const one = i32x4.splat(16384);
  const half = i32x4.splat(8192);
  const ownBit = i32x4.splat(bit);
  const count = i32x4.splat(tiles);
  let index = i32x4(0, 1, 2, 3);
  const others = (<usize>max(targetCount - 1, 0)) << 2;
  for (let at: usize = 0; at < (<usize>tiles) << 2; at += 16) {
    const value = v128.load(pixels + at);
    const there = i32x4.lt_s(index, count);
    const burned = i32x4.gt_s(value, threshold);
    v128.store(bits + at, v128.or(v128.load(bits + at), v128.and(v128.and(burned, there), ownBit)));
    const error = v128.and(i32x4.sub(value, v128.and(burned, one)), there);
    let rest = error;
    for (let k: usize = 0; k < others; k += 4) {
      const share = i32x4.shr_s(i32x4.add(i32x4.mul(error, v128.load32_splat(weights + k)), half), 14);
      const to = wanted + ((<usize>load<u32>(targets + k)) << 2) + at;
      v128.store(to, i32x4.add(v128.load(to), share));
      rest = i32x4.sub(rest, share);
    }
    if (targetCount > 0) {
      const to = wanted + ((<usize>load<u32>(targets + others)) << 2) + at;
      v128.store(to, i32x4.add(v128.load(to), rest));
    }
    index = i32x4.add(index, i32x4.splat(4));
  }
}

/** Writes words of `side` bits, 8 or 16, without the bits of `bare`, to packed bytes. */
export function joinDots(bits: usize, bare: usize, tiles: i32, side: i32, packed: usize): void {
  for (const end = bits + ((<usize>tiles) << 2); bits < end; bits += 4, bare += 4) {
    const word = load<i32>(bits) & ~load<i32>(bare);
    if (side === 16) store<u8>(packed++, word >> 8);
    store<u8>(packed++, word);
  }
}
