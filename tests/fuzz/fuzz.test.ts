import { expect, it } from "vitest";
import { fuzz } from "./run.js";

/** Far more than a small picture takes, far less than a declared one might. */
const MOST_BYTES = 700 * 2 ** 20;

it("takes or refuses mutated files of every kind, and never slips, hangs or swells", async () => {
  const { cases, accepted, peakRssBytes, failures } = await fuzz(0, 600);
  expect(failures).toEqual([]);
  expect(cases).toBe(600);
  // Neither all too tame nor all too wild.
  expect(accepted).toBeGreaterThan(60);
  expect(accepted).toBeLessThan(540);
  expect(peakRssBytes).toBeLessThan(MOST_BYTES);
});
