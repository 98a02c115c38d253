import { expect, it } from "vitest";
import { paceWithAdvice, spotAdvice, timeNote } from "../../../src/6-report/words/pace-words.js";
import { commandReader, commandReaderFor } from "../../../src/cli/command-reader.js";
import { libraryReader } from "../../../src/core/reader.js";

const SPEED = "speedMmPerS";
const ACCELERATION = "accelerationMmPerS2";
const pace = (...assumed: readonly string[]) => ({ speedMmPerS: 250, accelerationMmPerS2: 3000, assumed });

it.each([
  [[], "250 mm/s and 3000 mm/s²"],
  [
    [SPEED, ACCELERATION, "spotMm"],
    "an assumed 250 mm/s and 3000 mm/s² (give --speed and --accel for your machine's time)",
  ],
  [[ACCELERATION], "250 mm/s and an assumed 3000 mm/s² (give --accel for your machine's time)"],
  [[SPEED], "an assumed 250 mm/s, and your 3000 mm/s² (give --speed for your machine's time)"],
])("a run time with %j assumed is at %s", (assumed, words) => {
  expect(paceWithAdvice(pace(...assumed), commandReader)).toBe(words);
});

it("names the options for a programmer, and the surface that turns", () => {
  expect(paceWithAdvice({ ...pace(ACCELERATION), isRound: true }, libraryReader)).toBe(
    "250 mm/s and an assumed 3000 mm/s² of the turning surface (give accelerationMmPerS2 for your machine's time)",
  );
});

it("keeps the units in which the user gave them", () => {
  const units = { length: "mm", speed: "in/s", acceleration: "in/s²" } as const;
  const given = { speedMmPerS: 101.6, accelerationMmPerS2: 2540, assumed: [] };
  expect(paceWithAdvice(given, commandReaderFor({ units }))).toBe("4 in/s and 100 in/s²");
});

it("calls a spot assumed only if nobody gave it", () => {
  expect(spotAdvice(pace("spotMm"), commandReader)).toBe(" (assumed; give your own with --spot)");
  expect(spotAdvice(pace(SPEED), commandReader)).toBe("");
});

it("says in short what a time rests on", () => {
  expect(timeNote(pace(SPEED, ACCELERATION))).toBe(" at an assumed speed");
  expect(timeNote(pace(ACCELERATION))).toBe(" at an assumed acceleration");
  expect(timeNote(pace("spotMm"))).toBe("");
});
