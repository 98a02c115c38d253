/** 32-bit integer mix with good avalanche; the constants are in common use, quoted from memory. */
const mix32 = (seed: number): number => {
  let h = seed | 0;
  h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
  return (h ^ (h >>> 16)) >>> 0;
};

/** Integer hash of up to three lattice coordinates, 0..2³²−1. */
export const hashInt = (x: number, y: number, z = 0): number =>
  mix32(Math.imul(x, 0x1b873593) ^ Math.imul(y, 0x27d4eb2f) ^ Math.imul(z, 0x165667b1));

/** The same hash as a number in [0, 1). */
export const hash = (x: number, y: number, z = 0): number => hashInt(x, y, z) / 4294967296;

/** Seeded stream of numbers in [0, 1): a counter through the hash. */
export const createRandom = (seed: number): (() => number) => {
  let counter = mix32(seed);
  return () => {
    counter = (counter + 0x9e3779b9) | 0;
    return mix32(counter) / 4294967296;
  };
};

/** One draw from a standard normal distribution (Box and Muller, 1958). */
export const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
