/** A source of numbers in [0, 1). */
export type Random = () => number;

/**
 * Seeded generator of 32-bit state. The same seed gives the same numbers on every machine: integer arithmetic only.
 * Mulberry32 by Tommy Ettinger (2017), public domain; passes gjrand's tests to its period of 2^32.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A normal deviate of variance 1 (G. E. P. Box, M. E. Muller, Ann. Math. Statist. 29, 610, 1958). */
export function normalDeviate(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}
