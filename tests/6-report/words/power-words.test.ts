import { describe, expect, it } from "vitest";
import { sayMatter } from "../../../src/6-report/words/matter.js";
import {
  powerInShort,
  powerPercentWords,
  powerTooWeak,
  powerVeryLow,
} from "../../../src/6-report/words/power-words.js";
import { commandReader, sheetReader } from "../../../src/cli/command-reader.js";
import { libraryReader } from "../../../src/core/reader.js";

const once = { speedMmPerS: 300, passes: 1 };

it.each([
  [38.4, "38 %"],
  [9.96, "10 %"],
  [9.94, "9.9 %"],
  [2, "2 %"],
  [0.456, "0.46 %"],
])("%d reads %s", (percent, words) => {
  expect(powerPercentWords(percent)).toBe(words);
});

it.each([
  [{ ...once, percent: 38.4 }, "38 %"],
  [{ ...once, percent: 19.2, passes: 2 }, "19 %, 2 passes"],
  [{ ...once, percent: 101 }, "over 100 %"],
  [{ ...once, factor: 0.85 }, "× 0.85"],
  [once, "to be found"],
])("in large type %j is %s", (power, words) => {
  expect(powerInShort(power)).toBe(words);
});

it("far below what sources fire evenly is told with a quicker speed, and fewer passes", () => {
  // 0.2 % at 100 mm/s is 5 % at 2500 mm/s.
  const said = sayMatter(powerVeryLow, { speedMmPerS: 100, passes: 3, percent: 0.2 }, commandReader);
  expect(said).toMatch(/0\.2 % .* in each of 3 passes\. .* --speed to about 2500 mm\/s .* lower --passes\.$/);
  expect(sayMatter(powerVeryLow, { ...once, percent: 2 }, commandReader)).not.toContain("passes");
});

describe("more power than there is", () => {
  const weak = {
    ...{ ...once, percent: 250, fullPowerSpeedMmPerS: 120.7 },
    found: { percent: 100, linesPerInch: 747, speedMmPerS: 300 },
    enoughPasses: { passes: 3, percent: 83.3 },
  };

  it("is told with a speed that is not rounded up, and with passes", () => {
    const said = sayMatter(powerTooWeak, weak, commandReader);
    expect(said).toMatch(/^At 300 mm\/s solid parts need 250 %/);
    expect(said).toContain("lower --speed to 120 mm/s");
    expect(said).toContain("--power 100%@747@300mm/s");
    expect(said).toMatch(/3 passes at 83 %: --passes 3\.$/);
  });

  it("names no speed at which no machine runs", () => {
    const slow = { ...weak, speedMmPerS: 2, fullPowerSpeedMmPerS: 0.99 };
    const said = sayMatter(powerTooWeak, slow, commandReader);
    expect(said).toMatch(
      /no speed from 1 mm\/s up is slow enough: check the figures in --power\. Or burn 3 passes/,
    );
    expect(said).not.toContain("--speed");
    const { enoughPasses: _, ...hopeless } = slow;
    expect(sayMatter(powerTooWeak, hopeless, commandReader)).toMatch(/check the figures in --power\.$/);
    const just = { ...weak, fullPowerSpeedMmPerS: 1 };
    expect(sayMatter(powerTooWeak, just, commandReader)).toContain("lower --speed to 1 mm/s");
  });

  it("does not ask for the speed of a setting that has it", () => {
    const named = { ...weak, found: { ...weak.found, isSpeedNamed: true } } as const;
    const said = sayMatter(powerTooWeak, named, commandReader);
    expect(said).toContain("lower --speed to 120 mm/s.");
    expect(said).not.toContain("name the speed");
  });

  it("names the setting as each reader writes it", () => {
    expect(sayMatter(powerTooWeak, weak, libraryReader)).toContain(
      "powerPercent: { percent: 100, linesPerInch: 747, speedMmPerS: 300 }",
    );
    expect(sayMatter(powerTooWeak, weak, sheetReader)).toContain('"power" to "100%@747@300mm/s"');
  });
});
