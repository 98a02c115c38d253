import { expect, it } from "vitest";
import { comparisonColumns } from "../../../src/6-report/words/comparison-columns.js";
import { termsOf } from "../../../src/6-report/words/comparison-terms.js";

const spread = { common: 0.08, local: 0.04, localLengthMm: 2, line: 0.04, spot: 0.05 };
const figures = comparisonColumns(spread).filter(({ choice }) => choice === undefined);

it("explains every figure of a comparison, each once", () => {
  for (const column of figures) expect(termsOf([column]), column.key).toHaveLength(1);
  const all = termsOf(figures);
  expect(new Set(all.map(({ term }) => term)).size).toBe(all.length);
});

it("explains no figure that is not shown", () => {
  expect(termsOf(figures.filter(({ key }) => key === "unevenness")).map(({ term }) => term)).toEqual([
    "uneven",
  ]);
  expect(termsOf([])).toEqual([]);
});
