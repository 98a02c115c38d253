import { expect, it } from "vitest";
import { badgesOf, sharedWarnings } from "../../../src/6-report/words/comparison-words.js";
import { leftOutWords } from "../../../src/6-report/words/left-out.js";
import type { Candidate, Comparison } from "../../../src/index.js";

const warned = (...messages: string[]) =>
  ({
    warnings: messages.map((message) => ({ code: "material-illustrative", message, data: {} })),
  }) as Partial<Candidate> as Candidate;

const compared = {
  candidates: [warned("maple", "coarse"), warned("maple"), warned("slate"), warned("never told")],
  recommended: { candidates: [1, 2], sentence: "" },
  winners: { nominal: 2, robust: 2, fast: 2 },
} as Partial<Comparison> as Comparison;

it("tells the warnings of what to take on every material, and of whom else they are", () => {
  expect(sharedWarnings(compared)).toEqual([
    { message: "maple", of: [0, 1] },
    { message: "slate", of: [2] },
  ]);
});

it("names no merit twice", () => {
  expect([0, 1, 2].map((k) => badgesOf(compared, k))).toEqual([
    [],
    ["take this"],
    ["take this", "best nominal", "best robust"],
  ]);
  const quick = { ...compared, winners: { nominal: 0, robust: 0, fast: 3 } };
  expect(badgesOf(quick, 3)).toEqual(["best fast"]);
});

it("names the density of what was left out only where densities differ", () => {
  const at = (linesPerInch: number) => ({ linesPerInch }) as Candidate;
  const leftOut = [{ method: "dose-feedback", linesPerInch: 508, reason: "the spot is too wide" }];
  expect(leftOutWords({ candidates: [at(508)], leftOut })).toEqual(["dose-feedback: the spot is too wide"]);
  expect(leftOutWords({ candidates: [at(254), at(508)], leftOut })).toEqual([
    "dose-feedback at 508 lines per inch: the spot is too wide",
  ]);
});
