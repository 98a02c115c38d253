/** From one state of `core/random.ts` to the next. */
const STEP = 0x6d2b79f5;

/** The state of `seededRandom(seed)` after `count` numbers. */
export const randomState = (seed: number, count: number): number => (seed + Math.imul(STEP, count)) | 0;

/** The state's 32 random bits: `seededRandom` divides them by 2^32. */
export function randomBits(state: number): number {
  let bits = Math.imul(state ^ (state >>> 15), state | 1);
  bits ^= bits + Math.imul(bits ^ (bits >>> 7), bits | 61);
  return (bits ^ (bits >>> 14)) >>> 0;
}
