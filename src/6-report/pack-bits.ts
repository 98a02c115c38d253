/** Bytes of a packed row of `columns` pixels. */
export const bytesPerPackedRow = (columns: number): number => Math.ceil(columns / 8);

/**
 * Pack the `columns` values 0 or 1 at `bits[from]` into the bytes at `packed[to]`, eight to a byte, leftmost in the
 * highest bit, as samples of a bilevel picture in which 0 is black: a burned pixel (1) becomes 0, any other 1. Bits left
 * over in the last byte are 0. (Nothing to do with the run-length code PackBits.)
 */
export function packRow(
  bits: Uint8Array,
  from: number,
  columns: number,
  packed: Uint8Array,
  to: number,
): void {
  const wholeEnd = from + columns - (columns % 8);
  let i = from;
  for (; i < wholeEnd; i += 8) {
    packed[to++] = ~(
      (bits[i] << 7) |
      (bits[i + 1] << 6) |
      (bits[i + 2] << 5) |
      (bits[i + 3] << 4) |
      (bits[i + 4] << 3) |
      (bits[i + 5] << 2) |
      (bits[i + 6] << 1) |
      bits[i + 7]
    );
  }
  if (columns % 8 === 0) return;
  let byte = 0;
  for (let mask = 128; i < from + columns; i++, mask >>= 1) if (bits[i] === 0) byte |= mask;
  packed[to] = byte;
}
