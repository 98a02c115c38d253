import { packMasks } from "./bits";
import { RANDOM_STEP, randomBits } from "./random";

/**
 * One row of error diffusion with output feedback.
 *
 * @param clumping in 16384ths
 * @param state of the random numbers before the row
 * @param fractions [columns] i16
 * @param packed [⌈columns / 8⌉] u8, with a byte to spare
 * @param above [columns × 2] i32: error and output (burned less wanted) of the row above, then of this one
 * @param masks [columns] i16, with 16 to spare
 */
export function greenNoiseRow(
  clumping: i32,
  state: u32,
  fractions: usize,
  packed: usize,
  columns: i32,
  backward: i32,
  above: usize,
  masks: usize,
): void {
  const at = backward ? columns - 1 : 0;
  scan(
    backward ? -1 : 1,
    clumping,
    state,
    fractions + ((<usize>at) << 1),
    columns,
    above + ((<usize>at) << 3),
    masks + ((<usize>at) << 1),
  );
  packMasks(masks, packed, columns);
}

function scan(
  step: isize,
  clumping: i32,
  state: u32,
  fractions: usize,
  columns: i32,
  above: usize,
  masks: usize,
): void {
  let errorBehind = 0;
  let outputBehind = 0;
  for (let n = 0; n < columns; n++) {
    const fraction = <i32>load<i16>(fractions);
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    state += RANDOM_STEP;
    const behind = 4096 + <i32>(randomBits(state) >> 19);
    const wanted = asked + errorBehind + load<i32>(above);
    const output = (behind * outputBehind + (16384 - behind) * load<i32>(above, 4) + 8192) >> 14;
    const pull = (clumping * output + 8192) >> 14;
    const burned = (8191 - wanted - pull) >> 31;
    store<i16>(masks, burned & ~bare);
    const error = wanted - (burned & 16384);
    errorBehind = (error * behind + 8192) >> 14;
    outputBehind = (burned & 16384) - asked;
    store<i32>(above, error - errorBehind);
    store<i32>(above, outputBehind, 4);
    fractions += step << 1;
    masks += step << 1;
    above += step << 3;
  }
  above -= step << 3;
  store<i32>(above, load<i32>(above) + errorBehind);
}
