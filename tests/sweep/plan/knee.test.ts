import { describe, expect, it } from "vitest";
import { kneeOf, tonesForTwiceTheTime } from "../../../src/sweep/plan/knee.js";

const offers = (...pairs: [seconds: number, tones: number][]) =>
  pairs.map(([seconds, tones]) => ({ seconds, tones }));

// By hand.
describe("tones for twice the time", () => {
  it("are the most that is offered within it", () => {
    expect(tonesForTwiceTheTime(offers([10, 4], [15, 9], [20, 7], [40, 20]), 0)).toBe(9);
  });

  it("lie between two offers, evenly over factors of time", () => {
    // From 10 s to 40 s are two doublings. One of them is half of the way from 4 to 8.
    expect(tonesForTwiceTheTime(offers([10, 4], [40, 8]), 0)).toBeCloseTo(6, 12);
  });

  it("are what one has where nothing else is offered", () => {
    expect(tonesForTwiceTheTime(offers([10, 4]), 0)).toBe(4);
  });
});

describe("knee", () => {
  const bent = offers([1, 4], [2, 8], [4, 12], [8, 13], [16, 13]);

  it("is the cheapest offer after which a doubling adds less than the gain", () => {
    expect(kneeOf(bent, 0.6)).toBe(1); // 8 to 12 is half as much again
    expect(kneeOf(bent, 0.4)).toBe(2); // 12 to 13 is a twelfth
    expect(kneeOf(bent, 0.05)).toBe(3);
  });

  it("is the last offer where every doubling pays", () => {
    expect(kneeOf(offers([1, 4], [2, 8], [4, 16]), 0.25)).toBe(2);
  });

  it("does not move up when more is asked of a doubling", () => {
    let before = bent.length;
    for (let gain = 0.01; gain < 2; gain += 0.01) {
      const knee = kneeOf(bent, gain);
      expect(knee).toBeLessThanOrEqual(before);
      before = knee;
    }
  });

  it("stops where tones fall", () => {
    expect(kneeOf(offers([1, 9], [2, 8], [4, 5]), 0.25)).toBe(0);
  });
});
