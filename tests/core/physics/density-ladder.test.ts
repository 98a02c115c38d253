import { expect, it } from "vitest";
import { densityLadder } from "../../../src/core/physics/density-ladder.js";
import { checkNumber } from "../../support/check-values.js";

it("runs in whole lines from half to five times matched, the matched one rounded up among them", () => {
  const matched = checkNumber("density.match"); // 0.115 mm: 220.87, by arithmetic
  const ladder = densityLadder(matched, 20, 5080);
  expect(ladder[0]).toBe(110);
  expect(ladder).toContain(221);
  expect(ladder[ladder.length - 1]).toBe(1104);
  expect(ladder).toEqual([...ladder].sort((a, b) => a - b));
  expect(ladder.every(Number.isInteger)).toBe(true);
});

it("keeps to what may be asked for, without saying it twice", () => {
  expect(densityLadder(2540, 20, 5080).filter((density) => density === 5080)).toEqual([5080]);
  expect(densityLadder(10, 20, 5080)[0]).toBe(20);
  expect(densityLadder(200, 20, 5080)).toContain(200);
});

it("puts a usual density in place of those within a quarter of it", () => {
  expect(densityLadder(200, 20, 5080)).toEqual([100, 150, 200, 230, 270, 400, 600, 1000]);
  expect(densityLadder(200, 20, 5080, 350)).toEqual([100, 150, 200, 230, 270, 350, 600, 1000]);
  expect(densityLadder(200, 20, 5080, 320)).toEqual([100, 150, 200, 230, 320, 400, 600, 1000]);
});
