import { describe, expect, it } from "vitest";
import { cardVariation, type VariationWithin } from "../../src/7-calibration/card-variation.js";
import { lineRows, lineVariance } from "../../src/7-calibration/line-variation.js";
import type { VariedCard, VariedPatch } from "../../src/7-calibration/varied-patch.js";
import { type Random, seededRandom } from "../../src/core/random.js";
import { DEFAULT_SPREAD } from "../../src/core/spread.js";
import { normals } from "../support/normals.js";

/** Standard deviations that the places of a card are drawn with. */
interface Parts {
  readonly local: number;
  readonly lengthMm: number;
  readonly line: number;
  /** Of ln luminance: a grain that is long along the lines, and the camera. */
  readonly grain: number;
  readonly camera: number;
  /** Change of ln dose from the left side to the right one. */
  readonly drift: number;
}

const still: Parts = { local: 0, lengthMm: 3, line: 0, grain: 0, camera: 0.004, drift: 0 };
const [COLUMNS, ROWS, STEP_MM, SIDE_MM, PITCH_MM] = [18, 12, 3.5, 2.25, 0.025];
const LINES = SIDE_MM / PITCH_MM;
/** Change of ln luminance with ln dose, and lit lines of a period, of some patterns. */
const KINDS: readonly (readonly [gain: number, lines: readonly number[]])[] = [
  [0, [1]],
  [-0.2, [1]],
  [-1.8, [1]],
  [-1.2, [2, 0]],
  [-0.6, [4, 0, 0, 0]],
  [-2.4, [1]],
  [-1, [12, ...new Array<number>(11).fill(0)]],
];

const deviates = (count: number, random: Random): number[] =>
  Array.from({ length: count }, () => normals(random)[0]);

/** A sum of plane waves with the spectrum of exp(−(r/ℓ)²), which is a Gaussian of deviation √2/ℓ (its Fourier transform). */
function field(lengthMm: number, random: Random): (xMm: number, yMm: number) => number {
  const waves = Array.from({ length: 200 }, () => {
    const [u, v] = normals(random).map((each) => (each * Math.SQRT2) / lengthMm);
    return { u, v, phase: 2 * Math.PI * random() };
  });
  return (x, y) =>
    Math.sqrt(2 / waves.length) *
    waves.reduce((sum, { u, v, phase }) => sum + Math.cos(u * x + v * y + phase), 0);
}

/** Means over a patch, and waves by a sum over its lines, as section 13 of the model has it: nothing of ours. */
function drawn({ local, lengthMm, line, grain, camera, drift }: Parts, seed: number): VariedCard {
  const random = seededRandom(seed);
  const [blotch, streak] = [field(lengthMm, random), field(6, random)];
  const patches: VariedPatch[] = [];
  for (let row = 0; row < ROWS; row++) {
    const lines = deviates(LINES, random).map((each) => line * each);
    // A grain as long as the card: the same in all patches of a row, whatever their dose.
    const grains = deviates(12, random).map((each) => 0.3 * grain * each);
    for (let column = 0; column < COLUMNS; column++) {
      const kind = Math.floor(random() * KINDS.length);
      const [gain, doses] = KINDS[kind];
      const [xMm, yMm] = [STEP_MM * column, STEP_MM * row];
      const near = [-0.4, -0.2, 0, 0.2, 0.4].map((share) => share * SIDE_MM);
      const mean =
        near.reduce((sum, x) => sum + near.reduce((part, y) => part + blotch(xMm + x, yMm + y), 0), 0) / 25;
      const lit = lines.map((each, j) => each * doses[j % doses.length]);
      const ofLines = lit.reduce((sum, each) => sum + each, 0) / LINES;
      const slow = drift * (column / (COLUMNS - 1) - 0.5);
      const [noise] = normals(random);
      patches.push({
        ...{ patch: patches.length, pattern: `${kind}`, xMm, yMm, gain, lines: Float64Array.from(doses) },
        // Rows of a grain differ, and a grain is the same over several patches of a row.
        offset: gain * (local * mean + ofLines + slow) + grain * streak(xMm, 40 * yMm) + camera * noise,
        waves: Float64Array.from({ length: 12 }, (_, k) => {
          const wave = lit.reduce(
            (sum, each, j) => sum + each * Math.cos((Math.PI * (k + 1) * (j + 0.5)) / LINES),
            0,
          );
          return gain * Math.sqrt(2 / SIDE_MM) * PITCH_MM * wave + grains[k] + 0.001 * normals(random)[0];
        }),
      });
    }
  }
  const grid = {
    ...{ widthMm: SIDE_MM, heightMm: SIDE_MM, waveHeightMm: SIDE_MM, stepMm: STEP_MM, pitchMm: PITCH_MM },
    // So sharp that nothing is lost.
    ...{ spotMm: 0.001, pixelMm: 0.001 },
  };
  return { grid, patches };
}

const found = (parts: Parts, seed = 1): VariationWithin =>
  cardVariation([drawn(parts, seed)], DEFAULT_SPREAD, 0).within;
const within = (value: number, truth: number, share: number) =>
  expect(Math.abs(value / truth - 1)).toBeLessThan(share);

describe("variation within a card", () => {
  it("tells blotches, lines, and a drift apart", () => {
    const parts = { local: 0.04, lengthMm: 4, line: 0.05, grain: 0, camera: 0.005, drift: 0.12 };
    const { local, localLengthMm, line, drift } = found(parts);
    within(local.value, parts.local, 1 / 3);
    within(localLengthMm.value, parts.lengthMm, 1 / 3);
    within(line.value, parts.line, 0.15);
    within(drift, parts.drift, 0.5);
    for (const [band, truth] of [
      [local, parts.local],
      [localLengthMm, parts.lengthMm],
      [line, parts.line],
    ] as const) {
      expect(band.learnt).toBe(true);
      expect(band.low).toBeLessThan(truth);
      expect(band.high).toBeGreaterThan(truth);
    }
  });

  it("joins cards of which one was photographed from afar, so that it shows fewer waves", () => {
    const parts = { ...still, line: 0.05 };
    const [near, far] = [drawn(parts, 1), drawn(parts, 2)];
    const cards = [near, { ...far, grid: { ...far.grid, pixelMm: 0.07 } }].map(lineRows);
    expect(cards[1][0].length).toBeLessThan(cards[0][0].length);
    // Blur was not drawn, so what is corrected for it is too much: less than the band of one card.
    within(Math.sqrt(lineVariance(cards)), 0.05, 0.25);
    expect(lineVariance([...cards].reverse())).toBeCloseTo(lineVariance(cards), 12);
  });

  it("does not take grain or noise for dose", () => {
    const { local, line } = found({ ...still, grain: 0.02, camera: 0.01 });
    // At most a bit more than nothing: a quarter of what machines have.
    expect(local.low).toBeLessThan(0.01);
    expect(line.high).toBeLessThan(0.01);
  });

  it("takes lines that only few patches tell off blotches", () => {
    const { local, line } = found({ ...still, line: 0.08 }, 3);
    expect(local.low).toBe(0);
    expect(local.value).toBeLessThan(0.006);
    within(line.value, 0.08, 0.15);
  });

  it.each<[string, (patch: VariedPatch, k: number) => boolean]>([
    ["no patch is left", () => false],
    ["few are", (_, k) => k < 20],
    ["all stand in one column", ({ xMm }) => xMm < STEP_MM],
  ])("keeps what was believed where %s", (_, isLeft) => {
    const { grid, patches } = drawn({ ...still, local: 0.04, line: 0.04 }, 1);
    const card = { grid, patches: patches.filter(isLeft) };
    const learnt = cardVariation([card], DEFAULT_SPREAD, 0).within;
    for (const part of ["local", "localLengthMm", "line"] as const) {
      expect(learnt[part]).toMatchObject({ value: DEFAULT_SPREAD[part], learnt: false });
      expect(Number.isFinite(learnt[part].low) && Number.isFinite(learnt[part].high)).toBe(true);
    }
    expect(learnt.drift).toBe(0);
  });

  it("keeps what was believed where nothing shows a dose", () => {
    const { grid, patches } = drawn({ ...still, local: 0.04, line: 0.04 }, 1);
    const bare = patches.map((patch) => ({
      ...patch,
      gain: 0,
      offset: 0.003,
      waves: patch.waves.map(() => 0),
    }));
    const { local, line, localLengthMm } = cardVariation([{ grid, patches: bare }], DEFAULT_SPREAD, 0).within;
    expect(local).toMatchObject({ value: DEFAULT_SPREAD.local, learnt: false });
    expect(line).toMatchObject({ value: DEFAULT_SPREAD.line, learnt: false });
    expect(localLengthMm).toMatchObject({ value: DEFAULT_SPREAD.localLengthMm, learnt: false });
  });
});
