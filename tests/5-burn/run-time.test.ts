import { describe, expect, it } from "vitest";
import { type HeadMotion, RunTimer, runTime } from "../../src/5-burn/run-time.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { checkNumber, checkValue } from "../support/check-values.js";

const head: HeadMotion = { speedMmPerS: 500, accelerationMmPerS2: 10000, stepTimeS: 0, oneWay: false };

/** Every pixel burned. */
const solid = (columns: number, rows: number) =>
  packBitmap(new Uint8Array(columns * rows).fill(1), columns, rows);

/** Full artwork of the check value's width and lines, 0.1 mm pixels. */
function fullArtwork(id: string, oneWay = false) {
  const { inputs } = checkValue(id);
  const columns = Math.round(inputs.width_mm / 0.1);
  return runTime(solid(columns, inputs.lines), 0.1, {
    speedMmPerS: inputs.v_mm_s,
    accelerationMmPerS2: inputs.a_mm_s2,
    stepTimeS: inputs.step_s ?? 0,
    oneWay,
  });
}

describe("run time of full artwork (constant-acceleration kinematics, check values)", () => {
  it.each([
    "time.bidir.100-500-10000-1000",
    "time.bidir.100-500-20000-1000",
    "time.bidir.60-1000-20000-800",
    "time.withstep",
  ])("%s", (id) => {
    expect(fullArtwork(id).seconds).toBeCloseTo(checkNumber(id), 6);
  });

  it("one-way adds the return over the width and both run-ups, at the scan speed", () => {
    // The check value's formula with a return at 500 mm/s instead of 1000: 1000·(100/500 + 2·500/10000 + tr), where
    // tr = s/v + v/a and s = 100 + 500²/10000 = 125: 0.3 s.
    expect(fullArtwork("time.unidir", true).seconds).toBeCloseTo(600, 6);
  });

  it("takes n times as long in n passes, with the beam on n times as long, over the same lines", () => {
    const [once, thrice] = [undefined, 3].map((passes) =>
      runTime(solid(100, 300), 0.1, { ...head, stepTimeS: 0.01, passes }),
    );
    expect(thrice.seconds).toBeCloseTo(3 * once.seconds, 9);
    expect(thrice.beamOnSeconds).toBeCloseTo(3 * once.beamOnSeconds, 9);
    expect([thrice.lines, thrice.quickestSpeedMmPerS]).toEqual([once.lines, once.quickestSpeedMmPerS]);
  });

  it("is proportional to the number of lines", () => {
    const at = (lines: number) => runTime(solid(100, lines), 0.1, head).seconds;
    expect(at(800) / at(300)).toBeCloseTo(checkNumber("time.ratio.lines"), 6);
  });
});

describe("run time of a bitmap", () => {
  const columns = 40;
  // Spans of 30 and 1 pixels, a blank line between, a blank one at the end.
  const bits = new Uint8Array(columns * 4);
  for (const x of [5, 6, 20, 34]) bits[x] = 1;
  bits[2 * columns + 39] = 1;
  const time = runTime(packBitmap(bits, columns, 4), 0.1, { ...head, stepTimeS: 0.01 });

  // Bursts of 2, 1, 1 and 1 pixels of 0.1 mm; at 500 mm/s a pixel takes 200 µs. The gaps are long.
  it.each([
    [0, 5],
    [60, 5 - 4 * 0.3],
    [200, 1],
    [-60, 5 + 4 * 0.3],
  ])("counts as on what a firing loss of %d µs leaves", (firingLossUs, pixels) => {
    for (const levels of [2, 3]) {
      const { beamOnSeconds } = runTime(packBitmap(bits, columns, 4, levels), 0.1, { ...head, firingLossUs });
      expect(beamOnSeconds).toBeCloseTo(pixels * 200e-6, 12);
    }
  });

  it("fills no more than the gap between two bursts", () => {
    const line = Uint8Array.of(1, 0, 1, 0, 0, 0, 1, 0);
    const { beamOnSeconds } = runTime(packBitmap(line, 8, 1), 0.1, { ...head, firingLossUs: -400 });
    expect(beamOnSeconds).toBeCloseTo((3 + 1 + 2 + 2) * 200e-6, 12);
  });

  it("spans each line from its first to its last burned pixel, and steps over blank ones", () => {
    // 3 mm/500 + 0.1 for the first, 0.1 mm/500 + 0.1 for the third, three steps of 0.01 s.
    expect(time.seconds).toBeCloseTo(0.006 + 0.1 + 0.0002 + 0.1 + 0.03, 12);
    expect(time.lines).toBe(2);
    expect(time.blankLines).toBe(2);
  });

  it("has the beam on for the burned pixels only", () => {
    expect(time.beamOnSeconds).toBeCloseTo((5 * 0.1) / 500, 12);
    const inverse = bits.map((bit) => 1 - bit);
    const rest = runTime(packBitmap(inverse, columns, 4), 0.1, head);
    expect(rest.beamOnSeconds).toBeCloseTo((155 * 0.1) / 500, 12);
  });

  it("finds first and last burned pixel at any place in their bytes", () => {
    for (let first = 0; first < 20; first++) {
      for (let last = first; last < 20; last++) {
        const line = new Uint8Array(20);
        line[first] = 1;
        line[last] = 1;
        const { seconds } = runTime(packBitmap(line, 20, 1), 0.1, head);
        expect(seconds).toBeCloseTo(((last - first + 1) * 0.1) / 500 + 0.1, 12);
      }
    }
  });

  it("names the scan speed of least line time, √(a·span/2) of the mean span", () => {
    expect(time.quickestSpeedMmPerS).toBeCloseTo(Math.sqrt((10000 * 1.55) / 2), 9);
    expect(runTime(solid(1000, 3), 0.1, head).quickestSpeedMmPerS).toBeCloseTo(checkNumber("time.vopt"), 5);
  });

  it("says what the best speed would save: at twice that speed a fifth of the line time", () => {
    // W/2v + 4v/a against W/v + 2v/a at v = √(aW/2): 2.5 to 2 parts of √(2W/a).
    const twice = { ...head, speedMmPerS: 2 * checkNumber("time.vopt") };
    expect(runTime(solid(1000, 3), 0.1, twice).savedAtQuickestSpeed).toBeCloseTo(0.2, 6);
  });

  it("is nothing but steps when nothing burns", () => {
    const blank = runTime(packBitmap(new Uint8Array(40), 8, 5), 0.1, { ...head, stepTimeS: 0.5 });
    const nothing = {
      lines: 0,
      blankLines: 5,
      beamOnSeconds: 0,
      quickestSpeedMmPerS: 0,
      savedAtQuickestSpeed: 0,
    };
    expect(blank).toEqual({ seconds: 2, ...nothing });
    expect(runTime(packBitmap(new Uint8Array(0), 8, 0), 0.1, head).seconds).toBe(0);
  });
});

describe("run time of power levels", () => {
  it("counts the beam as on at any power, and power by its share", () => {
    // A line from pixel 2 to 5 at levels 1, 0, 3 and 2 of 4, and a blank line: 3 pixels on, equal to 6/3 pixels at full power.
    const levels = Uint8Array.of(0, 0, 1, 0, 3, 2, 0, 0, ...new Uint8Array(8));
    const timer = new RunTimer(8, 0.1, head, 4);
    timer.add(levels, 2);
    expect([timer.burnedPx(), timer.fullPowerPx()]).toEqual([3, 2]);
    const time = timer.runTime();
    // 0.4 mm at 500 mm/s and two run-ups of 0.05 s; 0.3 mm with the beam on.
    expect(time.seconds).toBeCloseTo(0.0008 + 0.1, 12);
    expect(time.beamOnSeconds).toBeCloseTo(0.0006, 12);
    expect([time.lines, time.blankLines]).toEqual([1, 1]);
  });
});
