/*
 * The numbers of a candidate are those of a prepared piece; the winners are found again by sorting.
 */
import { readFile } from "node:fs/promises";
import { beforeAll, expect, it } from "vitest";
import { type Comparison, compare, prepare } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";

const shared = { widthMm: 8, spotMm: 0.115 } as const;
const methods = ["floyd-steinberg", "clustered-dot"];
let boats: Uint8Array;
let made: Comparison;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
  made = await compare(boats, {
    ...shared,
    method: methods,
    linesPerInch: [200, 300],
    material: "coated-steel",
  });
});

it("has every combination, in order", () => {
  expect(made.candidates.map(({ method, linesPerInch }) => `${method} ${Math.round(linesPerInch)}`)).toEqual(
    [200, 300].flatMap((density) => methods.map((method) => `${method} ${density}`)),
  );
});

it("says what the reports say, to the last bit", async () => {
  for (const one of made.candidates) {
    const { report } = await prepare(boats, {
      ...shared,
      kind: "photo",
      method: one.method,
      linesPerInch: Math.round(one.linesPerInch),
      material: "coated-steel",
    });
    const { visualErrorRms, visualErrorBias, expectedVisualError, unevenness, toneShift } = one;
    const told = { visualErrorRms, visualErrorBias, expectedVisualError, unevenness, toneShift };
    expect(report.prediction).toMatchObject(told);
    expect(made.spread).toEqual(report.job.spread);
    expect(one.tonalResolution).toEqual(report.tonalResolution);
    expect([one.seconds, one.burnFraction]).toEqual([report.runTime.seconds, report.coverage.burnFraction]);
  }
});

it("names the least of each as winner", () => {
  const least = (key: "visualErrorRms" | "expectedVisualError", among = made.candidates) =>
    [...among].sort((a, b) => a[key] - b[key])[0][key];
  const { candidates, winners } = made;
  expect(candidates[winners.nominal].visualErrorRms).toBe(least("visualErrorRms"));
  expect(candidates[winners.robust].expectedVisualError).toBe(least("expectedVisualError"));
  const best = least("expectedVisualError");
  const good = candidates.filter((one) => one.expectedVisualError <= Math.max(1.25 * best, best + 0.3));
  const quickest = Math.min(...good.map(({ seconds }) => seconds));
  const quick = good.filter(({ seconds }) => seconds <= 1.01 * quickest);
  expect(quick).toContain(candidates[winners.fast]);
  expect(candidates[winners.fast].expectedVisualError).toBe(least("expectedVisualError", quick));
});

it("compares power levels, and what suits one of two need not suit the other", async () => {
  const { candidates } = await compare(boats, { ...shared, levels: [2, 4] });
  const of = (levels: number) => candidates.filter((one) => one.levels === levels);
  expect(of(2).map(({ method }) => method)).toContain("green-noise");
  expect(of(4).length).toBeGreaterThan(1);
  expect(of(4).map(({ method }) => method)).not.toContain("green-noise");
  const [diffused] = of(4);
  const { report } = await prepare(boats, { ...shared, kind: "photo", method: diffused.method, levels: 4 });
  expect(report.prediction?.visualErrorRms).toBe(diffused.visualErrorRms);
  await expect(compare(boats, { levels: [2, 1] })).rejects.toMatchObject({ code: "OPTION_INVALID" });
});

it("takes at most two lists, and refuses a bad one before any work", async () => {
  const photo = new Uint8Array(0);
  const three = { method: methods, linesPerInch: [200, 300], material: ["maple", "slate"] };
  await expect(compare(photo, three)).rejects.toMatchObject({ code: "OPTION_INVALID" });
  await expect(compare(photo, { method: ["no-such"] })).rejects.toMatchObject({
    code: "OPTION_METHOD_UNKNOWN",
  });
  await expect(compare(photo, { linesPerInch: [1] })).rejects.toMatchObject({ code: "OPTION_INVALID" });
});

it("refuses more candidates than anybody looks at, before any work", async () => {
  const densities = Array.from({ length: 11 }, (_, k) => 100 + k);
  const many = compare(new Uint8Array(0), { method: "all", linesPerInch: densities });
  await expect(many).rejects.toMatchObject({ code: "OPTION_TOO_LARGE" });
});
