import type { CardPattern } from "../core/card-pattern.js";

/** The two references. */
export const BARE: CardPattern = { kind: "bare" };
export const SOLID: CardPattern = { kind: "solid" };

/** Fills at a level on a machine with power levels: enough to see how tone follows power. */
const MAX_FILLS = 10;

/**
 * The patterns of a card, the most important ones first: a small card takes only the first of them. What each is for is in the
 * README of this folder.
 */
export function cardPatterns(levels: number): CardPattern[] {
  return [...essential(), ...fills(levels), ...further()];
}

/** About half of all: enough for the response, the spot along and across, the loss of a burst, and the line shift. */
const essential = (): CardPattern[] => [
  ...ladder([2, 3, 4, 5, 6, 8, 12]),
  ...lines([2, 3], [3, 4], [2, 4], [4, 8], [6, 12]),
  ...bursts([1, 2, 3, 4, 6, 8]),
  dashes(1, 2, 1),
  dashes(2, 1, 1),
  ...squares("dots", [1, 3], [1, 4], [2, 6]),
  ...squares("holes", [1, 2], [1, 3]),
  ...checks([1, 2, 4]),
  ...vernier(12, [2, 4, 6, -4, -2]),
  ...oneWayBursts([1, 2, 4]),
  ...isolated([1, 3], [1, 1], [2, 1]),
];

/** More of each, for a surer answer. */
const further = (): CardPattern[] => [
  ...lines([5, 6], [7, 8], [2, 6], [4, 6], [3, 6], [2, 8], [6, 8]),
  ...ladder([7, 10, 16]),
  ...oneWayBursts([3, 6, 8]),
  ...[dashes(1, 3), dashes(3, 1), dashes(2, 4), dashes(4, 2), dashes(4, 8), dashes(8, 4)],
  ...[dashes(1, 3, 2), dashes(2, 2, 2), dashes(4, 4, 4), dashes(8, 8, 8)],
  ...squares("dots", [1, 5], [1, 6], [2, 4]),
  ...squares("holes", [1, 4], [1, 6], [2, 6]),
  ...checks([3, 6, 8]),
  ...vernier(12, [1, 3, 5, -5, -3, -1]),
  ...bursts([12]),
  ...vernier(24, [6, 12, -6]),
  ...isolated([1, 2], [3, 1]),
];

/** One of every n lines. */
const ladder = (periods: readonly number[]): CardPattern[] =>
  periods.map((period) => ({ kind: "lines", on: 1, period }));

const lines = (...each: readonly (readonly [on: number, period: number])[]): CardPattern[] =>
  each.map(([on, period]) => ({ kind: "lines", on, period }));

const dashes = (on: number, off: number, step = 0, linePeriod = 1): CardPattern => ({
  ...{ kind: "dashes", on, off, step, linePeriod },
});

/** Dashes as long as their gaps, so that every length has the same share of its line. */
const bursts = (lengths: readonly number[]): CardPattern[] => lengths.map((on) => dashes(on, on));

/** The same on even lines alone, which all run in one direction even if the machine burns both ways. */
const oneWayBursts = (lengths: readonly number[]): CardPattern[] => lengths.map((on) => dashes(on, on, 0, 2));

/** Twelve lines are three spots at four lines to a spot: the marks do not touch. */
const ISOLATED_PERIOD = 12;

const isolated = (...each: readonly (readonly [on: number, off: number])[]): CardPattern[] =>
  each.map(([on, off]) => dashes(on, off, 0, ISOLATED_PERIOD));

const squares = (
  kind: "dots" | "holes",
  ...each: readonly (readonly [side: number, period: number])[]
): CardPattern[] => each.map(([side, period]) => ({ kind, side, period }));

const checks = (sides: readonly number[]): CardPattern[] => sides.map((side) => ({ kind: "checks", side }));

/** Without a displacement it is a burst of half the period. The longer period tells shifts of more than half the shorter one. */
const vernier = (period: number, shifts: readonly number[]): CardPattern[] =>
  shifts.map((shift) => ({ kind: "vernier", period, shift }));

/** Levels between off and full power, evenly spaced. */
function fills(levels: number): CardPattern[] {
  const count = Math.min(MAX_FILLS, levels - 2);
  return Array.from({ length: count }, (_, k) => ({
    ...{ kind: "fill", level: Math.round(((k + 1) * (levels - 1)) / (count + 1)) },
  }));
}
