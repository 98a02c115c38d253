import { describe, expect, it } from "vitest";
import { BAND_ROWS, EyeFilter } from "../../src/5-burn/eye-filter.js";
import { FieldBlocks } from "../../src/5-burn/field-blocks.js";
import { type FieldShares, type VariedRuns, variedError } from "../../src/5-burn/variation.js";
import { judgedSums } from "../../src/5-burn/visual-error.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { localAverageShare, localSeenShare, localSeenShareOn } from "../../src/core/physics/variation.js";
import { seededRandom } from "../../src/core/random.js";
import type { Spread } from "../../src/core/spread.js";

const [COLUMNS, ROWS] = [144, 112];
const pitch = { alongMm: 0.1, acrossMm: 0.125 };
/** Seen from so near that the eye blurs nothing. */
const viewing = { distanceMm: 0.01, luminanceCdPerM2: 50 };
const MARGIN = 16;

const steady: Spread = { common: 0, local: 0, localLengthMm: 2, line: 0, spot: 0 };
const nothing: FieldShares = { seen: 0, average: 0, point: 1 };
const all: FieldShares = { seen: 1, average: 0, point: 1 };

/** L* wanted: a slope along, waves across. */
const wanted = Float64Array.from({ length: COLUMNS * ROWS }, (_, i) => {
  const [x, y] = [i % COLUMNS, Math.floor(i / COLUMNS)];
  return 25 + (45 * x) / COLUMNS + 8 * Math.sin(y / 9);
});

const planeOf = (lightness: (i: number) => number): Float32Array =>
  Float32Array.from(wanted, (_, i) => luminanceFromLightness(lightness(i)));

/** The judgement of planes of L*: nominal first. */
function judged(
  lightness: readonly ((i: number) => number)[],
  runs: VariedRuns,
  spread: Spread,
  fields: { readonly local?: FieldShares; readonly line?: FieldShares } = {},
  withBlocks = true,
) {
  const target = planeOf((i) => wanted[i]);
  const inner = { left: MARGIN, top: MARGIN, columns: COLUMNS - 2 * MARGIN, rows: ROWS - 2 * MARGIN };
  const blocks = new FieldBlocks(inner, pitch);
  const sums = judgedSums(lightness.map(planeOf), target, COLUMNS, {
    ...{ pitch, viewing },
    slope: { pair: runs.slope.first, blocks },
  });
  return variedError({ all: sums, some: sums, blocks: withBlocks ? blocks : undefined }, runs, spread, {
    local: nothing,
    line: nothing,
    ...fields,
  });
}

/** Places that count. */
const inside = Array.from(wanted.keys()).filter((i) => {
  const [x, y] = [i % COLUMNS, Math.floor(i / COLUMNS)];
  return x >= MARGIN && y >= MARGIN && x < COLUMNS - MARGIN && y < ROWS - MARGIN;
});
const meanOf = (value: (i: number) => number): number =>
  inside.reduce((sum, i) => sum + value(i), 0) / inside.length;

/** Section 13 word for word: least-squares fit of the error, and mean squares of the fit and of the rest. */
function directFit(lightness: (i: number) => number) {
  const error = (i: number): number => lightness(i) - wanted[i];
  const [meanError, meanWanted] = [meanOf(error), meanOf((i) => wanted[i])];
  const covariance = meanOf((i) => (error(i) - meanError) * (wanted[i] - meanWanted));
  const slope = covariance / meanOf((i) => (wanted[i] - meanWanted) ** 2);
  const mapped = (i: number): number => meanError + slope * (wanted[i] - meanWanted);
  return { shift: meanOf((i) => mapped(i) ** 2), uneven: meanOf((i) => (error(i) - mapped(i)) ** 2) };
}

const same = { first: 1, factors: [0.95, 1.05] } as const;
const nominal = (i: number): number => wanted[i];

describe("the error of a piece", () => {
  it("that is an affine map of the wanted lightness is all tone shift", () => {
    const shifted = (i: number): number => 3 + 0.9 * wanted[i];
    const { unevenness, toneShift, expected } = judged([shifted, shifted, shifted], { slope: same }, steady);
    const rms = Math.sqrt(meanOf((i) => (3 - 0.1 * wanted[i]) ** 2));
    expect(unevenness).toBeLessThan(0.002);
    expect(toneShift).toBeCloseTo(rms, 4);
    expect(expected).toBeCloseTo(rms / 3, 4);
  });

  it("that has nothing to do with the wanted lightness is all unevenness", () => {
    const checks = (i: number): number => wanted[i] + ((i + Math.floor(i / COLUMNS)) % 2 === 0 ? 2 : -2);
    const { unevenness, toneShift } = judged([checks, checks, checks], { slope: same }, steady);
    expect(unevenness).toBeCloseTo(2, 2);
    expect(toneShift).toBeLessThan(0.02);
  });

  it("gains the mean squares of its runs, each over the nominal piece", () => {
    const runs: VariedRuns = { common: [1, 2], slope: same, spot: [3, 4] };
    const spread = { ...steady, common: 0.05, spot: 0.05 };
    const texture = (i: number): number => Math.sin(7 * i);
    const planes = [
      (i: number) => wanted[i] + 0.5 * texture(i),
      (i: number) => wanted[i] + 2 + texture(i),
      (i: number) => 0.95 * wanted[i] + 2 * texture(i),
      (i: number) => wanted[i] - 1 + 0.8 * texture(i),
      (i: number) => wanted[i] + 3 + 0.9 * texture(i),
    ];
    const fits = planes.map(directFit);
    const added = (name: "uneven" | "shift", places: readonly number[]): number =>
      places.reduce((sum, place) => sum + fits[place][name] / 2, -fits[0][name]);
    const { unevenness, toneShift, expected, parts } = judged(planes, runs, spread);
    const squares = (name: "uneven" | "shift"): number =>
      fits[0][name] + added(name, [1, 2]) + added(name, [3, 4]);
    expect(unevenness).toBeCloseTo(Math.sqrt(squares("uneven")), 3);
    expect(toneShift).toBeCloseTo(Math.sqrt(squares("shift")), 3);
    expect(expected).toBeCloseTo(Math.sqrt(squares("uneven") + squares("shift") / 9), 3);
    expect(parts.common.toneShift).toBeCloseTo(Math.sqrt(added("shift", [1, 2])), 3);
    expect(parts.spot.unevenness).toBeCloseTo(Math.sqrt(added("uneven", [3, 4])), 3);
  });

  it("does not gain from a run that comes out better", () => {
    const runs: VariedRuns = { common: [1, 2], slope: same };
    const rough = (i: number): number => wanted[i] + Math.sin(7 * i);
    const { unevenness, parts } = judged([rough, nominal, nominal], runs, { ...steady, common: 0.05 });
    expect(parts.common).toEqual({ unevenness: 0, toneShift: 0 });
    expect(unevenness).toBeCloseTo(Math.sqrt(directFit(rough).uneven), 3);
  });
});

/** A field of the correlation exp(−(r/ℓ)²), variance 1: many waves whose frequencies have its Gaussian spectrum. */
function randomField(
  random: () => number,
  lengthMm: number,
  { columns, rows, pitch: each } = { columns: COLUMNS, rows: ROWS, pitch },
): Float64Array {
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()) * (Math.SQRT2 / lengthMm);
  const field = new Float64Array(columns * rows);
  const waves = 80;
  for (let n = 0; n < waves; n++) {
    const [along, across, phase] = [normal(), normal(), 2 * Math.PI * random()];
    const turned = (turn: number): Float64Array =>
      Float64Array.from({ length: columns }, (_, x) => Math.cos(along * x * each.alongMm + turn));
    const [cosine, sine] = [turned(0), turned(-Math.PI / 2)];
    for (let y = 0, i = 0; y < rows; y++) {
      const angle = across * y * each.acrossMm + phase;
      const [c, s] = [Math.cos(angle), Math.sin(angle)].map((value) => Math.sqrt(2 / waves) * value);
      for (let x = 0; x < columns; x++, i++) field[i] += c * cosine[x] - s * sine[x];
    }
  }
  return field;
}

describe("random fields of dose, by brute force over seeded realisations", () => {
  /** L* of a pixel under F = ln dose: a surface whose slope and curvature vary from place to place. */
  const slope = (i: number): number => -20 - 15 * Math.sin(i / 11) - wanted[i] / 4;
  const curvature = (i: number): number => 90 * Math.cos(wanted[i] / 10);
  const at = (i: number, field: number): number =>
    wanted[i] + 2 * Math.sin(5 * i) + slope(i) * field + (curvature(i) * field ** 2) / 2;
  const factors = [0.85, 1.1] as const;
  const runs: VariedRuns = { slope: { first: 1, factors } };
  const planes = [1, ...factors].map((factor) => (i: number) => at(i, Math.log(factor)));
  it.each([0.5, 2, 30])("a local field of length %d mm", (localLengthMm) => {
    const sigma = 0.08;
    const random = seededRandom(5);
    let [uneven, shift] = [0, 0];
    const times = 200;
    for (let n = 0; n < times; n++) {
      const field = randomField(random, localLengthMm);
      const fit = directFit((i) => at(i, sigma * field[i]));
      uneven += fit.uneven / times;
      shift += fit.shift / times;
    }
    const spread = { ...steady, local: sigma, localLengthMm };
    const { unevenness, toneShift } = judged(planes, runs, spread, { local: all });
    expect(Math.abs(unevenness / Math.sqrt(uneven) - 1)).toBeLessThan(0.1);
    expect(Math.abs(toneShift / Math.sqrt(shift) - 1)).toBeLessThan(0.1);
    // Of a piece that was judged in part, only its size is known.
    const average = localAverageShare(
      (COLUMNS - 2 * MARGIN) * pitch.alongMm,
      (ROWS - 2 * MARGIN) * pitch.acrossMm,
      localLengthMm,
    );
    const sampled = judged(planes, runs, spread, { local: { ...all, average } }, false);
    expect(Math.abs(sampled.unevenness / Math.sqrt(uneven) - 1)).toBeLessThan(0.15);
    expect(Math.abs(sampled.expected / Math.sqrt(uneven + shift / 9) - 1)).toBeLessThan(0.1);
  });

  it("a local field and a slope that is the same everywhere: its mean over the piece", () => {
    // Whatever the length: sums over blocks are those of the closed form, and no tones go with the field.
    const even = (i: number): number => wanted[i];
    const runsAt = [1, ...factors].map((factor) => (i: number) => even(i) + 20 * Math.log(factor));
    for (const localLengthMm of [0.2, 1, 5, 60]) {
      const spread = { ...steady, local: 0.05, localLengthMm };
      const { toneShift } = judged(runsAt, runs, spread, { local: all });
      const [widthMm, heightMm] = [
        (COLUMNS - 2 * MARGIN) * pitch.alongMm,
        (ROWS - 2 * MARGIN) * pitch.acrossMm,
      ];
      const least = 20 * 0.05 * Math.sqrt(localAverageShare(widthMm, heightMm, localLengthMm));
      expect(toneShift).toBeGreaterThan(0.999 * least);
      // The tones' own share is at most as large again.
      expect(toneShift).toBeLessThan(1.01 * Math.SQRT2 * least);
    }
  });

  it("a local field on a small piece, behind the eye", () => {
    // 6.4 × 6.4 mm, mirrored: 64 pixels in a periodic tile of 128.
    const [side, memory] = [64, createKernelMemory()];
    const even = { alongMm: 0.1, acrossMm: 0.1 };
    const eye = new EyeFilter(
      { memory, pitch: even, viewing: { distanceMm: 300, luminanceCdPerM2: 50 } },
      2 * side,
    );
    const random = seededRandom(17);
    let [seen, whole] = [0, 0];
    for (let n = 0; n < 60; n++) {
      const field = randomField(random, 1.5, { columns: side, rows: side, pitch: even });
      const folded = (k: number): number => (k < side ? k : 2 * side - 1 - k);
      for (let y = 0; y < 2 * side; y += BAND_ROWS) {
        for (let i = 0; i < BAND_ROWS * 2 * side; i++) {
          const row = folded(y + Math.floor(i / (2 * side)));
          eye.first[i] = field[row * side + folded(i % (2 * side))];
        }
        eye.enter(y);
      }
      eye.filter();
      for (let y = 0; y < 2 * side; y += BAND_ROWS) {
        eye.leave(y);
        for (const value of eye.first) seen += value ** 2;
      }
      whole += 4 * field.reduce((sum, value) => sum + value ** 2, 0);
    }
    const share = localSeenShareOn({ widthMm: 6.4, heightMm: 6.4 }, 1.5, 300, 50);
    expect(Math.abs(share / (seen / whole) - 1)).toBeLessThan(0.015);
    // The closed form for an endless piece is further off.
    expect(Math.abs(localSeenShare(1.5, 300, 50) / (seen / whole) - 1)).toBeGreaterThan(0.025);
  });

  it("lines of their own dose each", () => {
    const sigma = 0.08;
    const random = seededRandom(9);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    let [uneven, shift] = [0, 0];
    const times = 200;
    for (let n = 0; n < times; n++) {
      const lines = Float64Array.from({ length: ROWS }, () => sigma * normal());
      const fit = directFit((i) => at(i, lines[Math.floor(i / COLUMNS)]));
      uneven += fit.uneven / times;
      shift += fit.shift / times;
    }
    const line: FieldShares = { ...all, average: 1 / (ROWS - 2 * MARGIN) };
    const { unevenness, toneShift } = judged(planes, runs, { ...steady, line: sigma }, { line });
    expect(Math.abs(unevenness / Math.sqrt(uneven) - 1)).toBeLessThan(0.1);
    // A quarter of the variance of these tones is from row to row, which the single term leaves out.
    expect(Math.abs(toneShift / Math.sqrt(shift) - 1)).toBeLessThan(0.13);
  });
});
