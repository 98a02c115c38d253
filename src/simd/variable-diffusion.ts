import { packMasks } from "./bits";
import { RANDOM_STEP, randomBits } from "./random";

/**
 * One row of error diffusion to three neighbours, with weights by the grey of the pixel.
 *
 * @param table [256 × 4] i16 by grey: weight ahead and weight behind below, in 16384ths; strength of noise 0..16384; unused
 * @param noisy 1 for random noise on the threshold
 * @param state of the random numbers before the row
 * @param fractions [columns] i16
 * @param packed [⌈columns / 8⌉] u8, with a byte to spare
 * @param received [columns] i32 error from the row above, then for the row below; one spare number on either side
 * @param masks [columns] i16, with 16 to spare
 */
export function diffuseVariableRow(
  table: usize,
  noisy: i32,
  state: u32,
  fractions: usize,
  packed: usize,
  columns: i32,
  backward: i32,
  received: usize,
  masks: usize,
): void {
  const at = backward ? columns - 1 : 0;
  scan(
    noisy,
    backward ? -1 : 1,
    table,
    state,
    fractions + ((<usize>at) << 1),
    columns,
    received + ((<usize>at) << 2),
    masks + ((<usize>at) << 1),
  );
  packMasks(masks, packed, columns);
}

function scan(
  noisy: i32,
  step: isize,
  table: usize,
  state: u32,
  fractions: usize,
  columns: i32,
  received: usize,
  masks: usize,
): void {
  let value = 0;
  let burned = 0;
  let ahead = 0;
  let below = 0;
  for (let n = 0; n < columns; n++) {
    const fraction = <i32>load<i16>(fractions);
    const bare = fraction >> 31;
    const asked = fraction & ~bare;
    const weights = table + ((<usize>((asked * 255 + 8192) >> 14)) << 3);
    value = asked + load<i32>(received) - (burned & ahead) + ((value * ahead + 8192) >> 14);
    let threshold = 8191;
    if (noisy) {
      state += RANDOM_STEP;
      threshold += (<i32>load<i16>(weights, 4) * <i32>(randomBits(state) >> 17)) >> 16;
    }
    burned = (threshold - value) >> 31;
    store<i16>(masks, burned & ~bare);
    ahead = <i32>load<i16>(weights);
    const error = value - (burned & 16384);
    const behind = (error * <i32>load<i16>(weights, 2) + 8192) >> 14;
    store<i32>(received - (step << 2), below + behind);
    below = error - ((error * ahead + 8192) >> 14) - behind;
    fractions += step << 1;
    masks += step << 1;
    received += step << 2;
  }
  store<i32>(received - (step << 2), below);
  store<i32>(received, ((value * ahead + 8192) >> 14) - (burned & ahead));
}
