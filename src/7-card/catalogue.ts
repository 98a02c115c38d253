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

/**
 * Three quarters of all: enough for all that a card tells. `bench/calibration-patterns.ts` chose most of them. It sees small changes alone, so
 * there are also even tones, and verniers of 16 and 24 pixels, in which no other line shift looks the same.
 */
const essential = (): CardPattern[] => [
  ...ladder([2, 3, 5, 7, 9]),
  ...lines([2, 3], [3, 4], [3, 5], [5, 6], [4, 6], [4, 7], [2, 8], [5, 8], [7, 8], [5, 9], [6, 9]),
  ...bursts([1, 2, 4]),
  ...dashes(
    [1, 3],
    [1, 4],
    [2, 1],
    [2, 5],
    [2, 6],
    [3, 2],
    [3, 6],
    [3, 7],
    [3, 10],
    [4, 2],
    [5, 3],
    [5, 4],
    [5, 7],
  ),
  ...dashesEvery(2, [1, 1], [3, 6]),
  ...dashesEvery(4, [1, 4], [2, 1]),
  ...squares("dots", [1, 3]),
  ...squares("holes", [1, 2], [1, 3], [1, 4]),
  ...checks([1]),
  ...verniers(6, 6, [2, -3, -1]),
  ...verniers(8, 8, [4, -4]),
  ...verniers(12, 12, [6, -6]),
  ...verniers(4, 3, [3, -1]),
  ...verniers(2, 6, [2, -1]),
  ...verniers(4, 8, [1, -1]),
  ...[vernier(5, 5, 3), vernier(10, 2, 6), vernier(1, 4, 2), vernier(4, 6, 1)],
  ...[vernier(3, 4, -2), vernier(2, 8, -1), vernier(3, 9, -1), vernier(1, 5, -1)],
];

/** More of each, for a surer answer. */
const further = (): CardPattern[] => [
  ...lines([2, 4], [3, 6]),
  ...dashes([1, 5], [3, 1], [3, 8], [4, 10], [6, 3]),
  ...[stepped(1, 2), stepped(2, 1)],
  ...dashesEvery(2, [2, 1]),
  ...dashesEvery(4, [1, 1]),
  ...dashesEvery(12, [1, 1], [2, 1]),
  ...squares("dots", [1, 4]),
  ...checks([2]),
  ...[
    vernier(1, 2, 1),
    vernier(2, 6, 3),
    vernier(5, 1, 3),
    vernier(3, 7, 1),
    vernier(3, 2, -2),
    vernier(2, 4, -1),
  ],
];

/** One of every n lines. */
const ladder = (periods: readonly number[]): CardPattern[] =>
  periods.map((period) => ({ kind: "lines", on: 1, period }));

const lines = (...each: readonly (readonly [on: number, period: number])[]): CardPattern[] =>
  each.map(([on, period]) => ({ kind: "lines", on, period }));

/** Dashes as long as their gaps, so that every length has the same share of its line. */
const bursts = (lengths: readonly number[]): CardPattern[] =>
  dashes(...lengths.map((on) => [on, on] as const));

type Dashes = readonly (readonly [on: number, off: number])[];

const dashes = (...each: Dashes): CardPattern[] => dashesEvery(1, ...each);

/** On every second line they are on even lines alone, which all run in one direction even if the machine burns both ways. */
const dashesEvery = (linePeriod: number, ...each: Dashes): CardPattern[] =>
  each.map(([on, off]) => ({ kind: "dashes", on, off, step: 0, linePeriod }));

const stepped = (on: number, off: number): CardPattern => ({
  kind: "dashes",
  on,
  off,
  step: 1,
  linePeriod: 1,
});

const squares = (
  kind: "dots" | "holes",
  ...each: readonly (readonly [side: number, period: number])[]
): CardPattern[] => each.map(([side, period]) => ({ kind, side, period }));

const checks = (sides: readonly number[]): CardPattern[] => sides.map((side) => ({ kind: "checks", side }));

const vernier = (on: number, off: number, shift: number): CardPattern => ({
  kind: "vernier",
  on,
  off,
  shift,
});

const verniers = (on: number, off: number, shifts: readonly number[]): CardPattern[] =>
  shifts.map((shift) => vernier(on, off, shift));

/** Levels between off and full power, evenly spaced. */
function fills(levels: number): CardPattern[] {
  const count = Math.min(MAX_FILLS, levels - 2);
  return Array.from({ length: count }, (_, k) => ({
    ...{ kind: "fill", level: Math.round(((k + 1) * (levels - 1)) / (count + 1)) },
  }));
}
