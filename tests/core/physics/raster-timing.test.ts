import { describe, expect, it } from "vitest";
import * as timing from "../../../src/core/physics/raster-timing.js";

/** Time from rest to rest, by small time steps to the middle of the move and as long again to brake. */
function steppedMoveTimeS(distanceMm: number, acceleration: number, topSpeed: number): number {
  const dt = 1e-6;
  let [steps, position, speed] = [0, 0, 0];
  while (position < distanceMm / 2) {
    speed = Math.min(topSpeed, speed + acceleration * dt);
    position += speed * dt;
    steps++;
  }
  return 2 * steps * dt;
}

describe("moves", () => {
  it.each([
    [125, 10000, 1000],
    [60, 10000, 1000],
    [105, 10000, 1000],
    [3, 4000, 90],
  ])(
    "%f mm at %f mm/s² and at most %f mm/s take the time of a stepped drive",
    (distance, acceleration, top) => {
      const stepped = steppedMoveTimeS(distance, acceleration, top);
      expect(Math.abs(timing.moveTimeS(distance, acceleration, top) - stepped)).toBeLessThan(1e-4 * stepped);
    },
  );

  it("a line with run-up and run-out is a move over all of it, if the scan speed is the top speed", () => {
    const runUpMm = timing.runUpMm(500, 10000);
    expect(timing.lineTimeS(100, 500, 10000)).toBeCloseTo(
      timing.moveTimeS(100 + 2 * runUpMm, 10000, 500),
      12,
    );
  });
});

describe("lines and jobs", () => {
  it("no speed gives a shorter line than the speed of least line time", () => {
    const best = timing.speedOfMinLineTimeMmPerS(80, 6000);
    const least = timing.minLineTimeS(80, 6000);
    expect(timing.lineTimeS(80, best, 6000)).toBeCloseTo(least, 12);
    for (let speed = 50; speed <= 3000; speed += 50) {
      expect(timing.lineTimeS(80, speed, 6000)).toBeGreaterThanOrEqual(least);
    }
  });

  const job = { widthMm: 100, lines: 11, speedMmPerS: 500, accelerationMmPerS2: 10000, stepTimeS: 0.02 };

  it("steps stand between lines, one fewer than the lines", () => {
    const withoutSteps = timing.twoWayJobTimeS({ ...job, stepTimeS: 0 });
    expect(timing.twoWayJobTimeS(job) - withoutSteps).toBeCloseTo(0.2, 12);
    expect(
      timing.oneWayJobTimeS(job, 1000) - timing.oneWayJobTimeS({ ...job, stepTimeS: 0 }, 1000),
    ).toBeCloseTo(0.2, 12);
  });

  it("a return at scan speed makes a one-way job twice as long", () => {
    const plain = { ...job, stepTimeS: 0 };
    expect(timing.oneWayJobTimeS(plain, 500)).toBeCloseTo(2 * timing.twoWayJobTimeS(plain), 12);
  });

  it("a rapid speed that the return never reaches does not shorten it", () => {
    expect(timing.oneWayJobTimeS(job, 5000)).toBe(timing.oneWayJobTimeS(job, 50000));
  });
});
