/** From one state of `core/random.ts` to the next. */
export const RANDOM_STEP: u32 = 0x6d2b79f5;

/** The 32 random bits of a state: `core/random.ts`. */
export function randomBits(state: u32): u32 {
  let bits = (state ^ (state >> 15)) * (state | 1);
  bits ^= bits + (bits ^ (bits >> 7)) * (bits | 61);
  return bits ^ (bits >> 14);
}
