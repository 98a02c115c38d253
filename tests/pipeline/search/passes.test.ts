import { describe, expect, it } from "vitest";
import { type PassWishes, passesOf } from "../../../src/pipeline/search/passes.js";

const wishes: readonly PassWishes[] = (["nominal", "robust"] as const).flatMap((aim) =>
  [true, false].flatMap((onward) => [true, false].map((hasLimit) => ({ aim, onward, hasLimit }))),
);

describe("the passes of a search", () => {
  it.each(wishes)("end at the viewing distance: $aim, onward $onward, hasLimit $hasLimit", (wished) => {
    const passes = passesOf(wished, 5.6);
    expect(passes.at(-1)?.nearness).toBe(1);
    expect(passes.every(({ nearness, sweeps }) => nearness >= 1 && sweeps >= 1)).toBe(true);
  });

  it("begin from near, but not where the eye's blur is narrower than two pixels", () => {
    const nominal = { aim: "nominal", onward: false, hasLimit: false } as const;
    const nearest = (eyeWidthPx: number) =>
      Math.max(...passesOf(nominal, eyeWidthPx).map(({ nearness }) => nearness));
    expect(nearest(8)).toBe(3);
    expect(nearest(3)).toBe(1.5);
    expect(nearest(1.2)).toBe(1);
  });

  it("only go down from a given bitmap, and come to a result soon with a time limit", () => {
    const onward = passesOf({ aim: "nominal", onward: true, hasLimit: false }, 8);
    expect(onward.every(({ nearness }) => nearness === 1)).toBe(true);
    const [first, second] = passesOf({ aim: "nominal", onward: false, hasLimit: true }, 8);
    expect(first.sweeps).toBe(1);
    expect(second.nearness).toBe(1);
  });
});
