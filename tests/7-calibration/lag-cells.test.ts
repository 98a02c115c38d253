import { expect, it } from "vitest";
import { lagCells } from "../../src/7-calibration/lag-profile.js";
import { trialBeam } from "../../src/7-calibration/trial-beam.js";
import { roundGuess } from "./virtual-card.js";

it("lags are believed as the starting value in half of all cases, else within the width of lines", () => {
  const near = trialBeam(roundGuess.spot, roundGuess.motion, 1);
  const cells = lagCells(near, { startMm: 0.01, deviationMm: 0.024 });
  expect(cells.reduce((sum, { believed }) => sum + believed, 0)).toBeCloseTo(1, 12);
  const [start] = cells.filter(({ isStart }) => isStart);
  expect(start).toMatchObject({ lagMm: 0.01, believed: 0.5 });
  // No lag is left out: cells follow one another, and the start stands for the one that it lies in.
  expect(cells[0].lagsMm[0]).toBe(0);
  for (const [n, { lagsMm }] of cells.slice(1).entries())
    expect(lagsMm[0]).toBeCloseTo(cells[n].lagsMm[1], 12);
  // A lag as long as the standard deviation of the line, a quarter of its width, leaves no room for a spot.
  expect(cells[cells.length - 1].lagsMm[1]).toBeCloseTo(0.1 / 4, 12);
  // Further lags are less likely, by the normal density.
  const cellAt = (lagMm: number) => cells.filter(({ lagsMm: [low, high] }) => low < lagMm && lagMm < high)[0];
  const [far, close] = [cellAt(0.0249), cellAt(0.0127)];
  const off = ({ lagMm }: typeof far) => ((lagMm - 0.01) / 0.024) ** 2;
  expect(far.believed / close.believed).toBeCloseTo(Math.exp((off(close) - off(far)) / 2), 12);
});
