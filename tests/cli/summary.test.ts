import { describe, expect, it } from "vitest";
import { summaryOf } from "../../src/cli/summary.js";
import { resolveOptions } from "../../src/options/options.js";
import { piece, predicted } from "../6-report/words/flawless-piece.js";

const options = resolveOptions({ material: "maple" });
const summary = (spread: Partial<typeof piece.job.spread>): string =>
  summaryOf(
    {
      ...piece,
      job: { ...piece.job, spread: { ...piece.job.spread, ...spread } },
      prediction: predicted({}),
      warnings: [],
    },
    [],
    options,
  );

describe("the summary", () => {
  it("says whether the machine of the expected error varies at all", () => {
    expect(summary({})).toMatch(/expected .* L\* on a machine that varies: unevenness/);
    expect(summary({ common: 0, local: 0, line: 0 })).toContain("on a machine that varies:");
    expect(summary({ common: 0, local: 0, line: 0, spot: 0 })).toContain("on a machine that never varies:");
  });
});
