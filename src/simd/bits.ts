/**
 * Packs sixteen comparison results (two vectors of eight 16-bit masks, leftmost first) into two bytes for a little-endian 16-bit
 * store: the left byte is the low byte, its leftmost pixel the highest bit.
 */
export function packedPair(left: v128, right: v128): i32 {
  const masks = i8x16.narrow_i16x8_s(left, right);
  return i8x16.bitmask(i8x16.shuffle(masks, masks, 7, 6, 5, 4, 3, 2, 1, 0, 15, 14, 13, 12, 11, 10, 9, 8));
}

/** Mask of the pixels in the last byte of a packed row of `columns` columns. */
export function lastByteMask(columns: i32): i32 {
  return (0xff00 >> (((columns - 1) & 7) + 1)) & 0xff;
}

/** Packs a row of 16-bit masks (0 or −1) to bits. 16 spare masks follow the row, and one spare byte follows `packed`. */
export function packMasks(masks: usize, packed: usize, columns: i32): void {
  const lastByte = packed + (<usize>(columns - 1) >> 3);
  for (; packed <= lastByte; packed += 2, masks += 32) {
    store<u16>(packed, packedPair(v128.load(masks), v128.load(masks, 16)));
  }
  store<u8>(lastByte, <i32>load<u8>(lastByte) & lastByteMask(columns));
}
