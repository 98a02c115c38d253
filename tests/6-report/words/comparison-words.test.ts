import { expect, it } from "vitest";
import { badgesOf, sharedWarnings } from "../../../src/6-report/words/comparison-words.js";
import { leftOutWords, sayLeftOut } from "../../../src/6-report/words/left-out.js";
import { commandReader } from "../../../src/cli/command-reader.js";
import { refusal } from "../../../src/core/refusals/refusals.js";
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

it("says why a method was left out, with the option that would let it in", () => {
  const data = { method: "stevenson-arce", min: 1.56, max: 1.91, ratio: 1, linesPerInchAlong: 765.5 };
  expect(sayLeftOut(refusal("method-grid", data), commandReader)).toBe(
    "it needs lines 1.56 to 1.91 times as far apart as the pixels along them: --density-along 766",
  );
  const wide = refusal("method-spot-too-wide", { method: "dose-feedback", maxPx: 12, spotPx: 15.22 });
  expect(sayLeftOut(wide, commandReader)).toMatch(/spots up to 12 pixels wide, and here .* 15\.2 pixels/);
  // An error of another kind keeps its own words.
  const other = refusal("nothing-predicted", {});
  expect(sayLeftOut(other, commandReader)).toBe(other.message);
});
