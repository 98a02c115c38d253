import { expect, it } from "vitest";
import { commandReader, readerOf, sheetReader } from "../../src/cli/command-reader.js";

it.each([
  ["linesPerInchAlong", "--density-along", '"density-along"'],
  ["autoTone", "--no-auto-tone", '"auto-tone"'],
  ["markMm", "--mark", '"mark"'],
  ["memoryGb", "--memory", '"memory"'],
])("%s is %s at the command line, %s in a sheet", (option, typed, column) => {
  expect(commandReader.option(option)).toBe(typed);
  expect(sheetReader.option(option)).toBe(column);
  expect(readerOf("shop.json").option(option)).toBe(`${column} in shop.json`);
});

it.each([
  ["kind", "solid", "--kind solid"],
  ["negative", true, "--negative"],
  ["negative", false, "--no-negative"],
  ["autoTone", true, "--auto-tone"],
  ["autoTone", false, "--no-auto-tone"],
])("%s set to %s is typed %s", (option, value, typed) => {
  expect(commandReader.setting(option, value)).toBe(typed);
});
