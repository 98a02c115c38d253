import { lastByteMask, packedPair } from "./bits";

/**
 * Compares a row with a repeated row of thresholds: a bit is 1 if fraction ≥ threshold.
 *
 * @param fractions [columns] i16
 * @param thresholds [period + 16] i16, the first 16 repeated at the end
 * @param period a multiple of 16
 * @param phase index of the threshold of column 0, below `period`
 * @param packed [⌈columns / 8⌉] u8, with a byte to spare
 */
export function compareRow(
  fractions: usize,
  columns: i32,
  thresholds: usize,
  period: i32,
  phase: i32,
  packed: usize,
): void {
  const lastByte = packed + (<usize>(columns - 1) >> 3);
  const turn = (<usize>period) << 1;
  const wrap = thresholds + turn;
  let threshold = thresholds + ((<usize>phase) << 1);
  for (; packed <= lastByte; packed += 2, fractions += 32) {
    store<u16>(
      packed,
      packedPair(
        i16x8.ge_s(v128.load(fractions), v128.load(threshold)),
        i16x8.ge_s(v128.load(fractions, 16), v128.load(threshold, 16)),
      ),
    );
    threshold += 32;
    if (threshold >= wrap) threshold -= turn;
  }
  store<u8>(lastByte, <i32>load<u8>(lastByte) & lastByteMask(columns));
}
