import { expect, it } from "vitest";
import { randomBits, randomState } from "../../src/4-halftone/random-bits.js";
import { seededRandom } from "../../src/core/random.js";

it.each([0, 1, 20260, 2 ** 32 - 1])("are those of the generator of seed %i, at any place", (seed) => {
  const random = seededRandom(seed);
  for (let count = 1; count <= 2000; count++) {
    expect(randomBits(randomState(seed, count)) / 2 ** 32).toBe(random());
  }
});
