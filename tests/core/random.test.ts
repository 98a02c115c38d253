import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";

/** Mulberry32 in whole numbers of any size, each step cut to 32 bits: T. Ettinger (2017), from memory of his C. */
function mulberry32(seed: bigint): () => number {
  const word = (value: bigint) => value & 0xffffffffn;
  let state = word(seed);
  return () => {
    state = word(state + 0x6d2b79f5n);
    let z = word((state ^ (state >> 15n)) * (state | 1n));
    z ^= word(z + word((z ^ (z >> 7n)) * (z | 61n)));
    return Number(z ^ (z >> 14n)) / 2 ** 32;
  };
}

describe("seeded random numbers", () => {
  it("are those of Mulberry32 in exact arithmetic", () => {
    for (const seed of [0, 1, 12345, 0xffffffff]) {
      const random = seededRandom(seed);
      const exact = mulberry32(BigInt(seed));
      for (let i = 0; i < 1000; i++) expect(random()).toBe(exact());
    }
  });

  it("lie evenly in 0..1, 1 excluded, and do not follow each other", () => {
    const random = seededRandom(42);
    const values = Array.from({ length: 50000 }, () => random());
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    // Five standard errors: 5·√(1/12/50000), and 5·(1/12)/√50000 for the covariance of neighbours.
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.0065);
    let covariance = 0;
    for (let i = 1; i < values.length; i++) covariance += (values[i] - 0.5) * (values[i - 1] - 0.5);
    expect(Math.abs(covariance / values.length)).toBeLessThan(0.0019);
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
  });

  it("come from one source each: two in parallel do not disturb one another", () => {
    const a = seededRandom(9);
    const b = seededRandom(9);
    expect([a(), a(), a()]).toEqual([b(), b(), b()]);
    expect(seededRandom(9)()).not.toBe(seededRandom(10)());
  });
});
