import { describe, expect, it } from "vitest";
import {
  type DistinctionPlanes,
  type Fate,
  fates,
  lostDistinctions,
  type ShownBy,
} from "../../src/5-burn/lost-distinctions.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { seededRandom } from "../../src/core/random.js";

const [columns, rows] = [80, 60];
const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };

/** A picture of luminance from its lightness at each cell. */
const picture = (lightnessAt: (x: number, y: number) => number): Float32Array =>
  Float32Array.from({ length: columns * rows }, (_, i) =>
    luminanceFromLightness(lightnessAt(i % columns, Math.floor(i / columns))),
  );

/** Squares of `side` cells, `difference` apart in L* about a mean. */
const checks =
  (side: number, difference: number, mean = 50) =>
  (x: number, y: number): number =>
    mean + ((Math.floor(x / side) + Math.floor(y / side)) % 2 === 0 ? difference : -difference) / 2;

/** A material with the tones of the photo, from black to white. Bare is white. */
const perfect: ShownBy = {
  ...{ wanted: (luminance) => luminance, bare: 1, solid: 0, heldStep: () => 0, twoTones: false, viewing },
};

function fatesOf(
  planes: Pick<DistinctionPlanes, "photo"> & Partial<DistinctionPlanes>,
  shown: Partial<ShownBy> = {},
): Uint8Array {
  const { photo } = planes;
  const judged = new Uint8Array(columns * rows).fill(1);
  const all = { columns, rows, cellMm: 0.5, toned: photo, piece: photo, judged, ...planes };
  return lostDistinctions(all, { ...perfect, ...shown });
}

const shareOf = (fate: Uint8Array, one: Fate): number =>
  fate.filter((each) => each === fates.indexOf(one)).length / fate.length;

describe("the distinctions of a photo", () => {
  it("are all kept by a piece that is the photo", () => {
    expect(shareOf(fatesOf({ photo: picture(checks(4, 20)) }), "kept")).toBe(1);
  });

  it("are none in an even picture", () => {
    expect(shareOf(fatesOf({ photo: picture(() => 50) }), "plain")).toBe(1);
  });

  // Single cells: five of nine apertures have one tone, so twice the deviation is 2√(5·4)/9 = 0.9938 of the difference. At a
  // period of two cells, 1 mm seen from 300 mm, the eye leaves exp(−5.236/5.964) = 0.4156 (Näsänen 1984 at 50 cd/m²).
  // 3/(0.9938 · 0.4156) = 7.264.
  it("count from 3 L* as the eye sees them", () => {
    expect(shareOf(fatesOf({ photo: picture(checks(1, 7.2)) }), "plain")).toBe(1);
    const inner = (fate: Uint8Array) => fate[20 * columns + 30];
    expect(inner(fatesOf({ photo: picture(checks(1, 7.35)) }))).toBe(fates.indexOf("kept"));
  });

  it("are lost where levels clip them: half of the picture is 50 %", () => {
    const pattern = checks(4, 20);
    const clipped = picture((x, y) => (x < columns / 2 ? 100 : pattern(x, y)));
    const fate = fatesOf({ photo: picture(pattern), toned: clipped, piece: clipped });
    // At the border of the halves a window sees both: within one square of 4 cells it may go either way.
    expect(Math.abs(shareOf(fate, "levels") - 0.5)).toBeLessThan(4 / columns);
    expect(shareOf(fate, "levels") + shareOf(fate, "kept")).toBe(1);
  });

  it("are lost where fine ones are gone, even if coarse ones are kept", () => {
    const coarse = checks(20, 30);
    const fine = checks(1, 20, 0);
    const photo = picture((x, y) => coarse(x, y) + fine(x, y));
    const fate = fatesOf({ photo, toned: picture(coarse), piece: picture(coarse) });
    // Beside an edge of the coarse squares the fine band sees the edge too, and keeps it: 2 cells of 20, both ways.
    expect(shareOf(fate, "levels")).toBeGreaterThan(0.75);
  });

  // What is seen has 3 L* or more, and what is gone less than 1: more than a third of the range loses nothing.
  it("are not lost by a range that only makes them smaller", () => {
    const photo = picture(checks(4, 20));
    const smaller = {
      wanted: (luminance: number) => luminanceFromLightness(30 + 0.4 * lightness(luminance)),
    };
    const piece = photo.map(smaller.wanted);
    expect(shareOf(fatesOf({ photo, piece }, smaller), "kept")).toBe(1);
  });

  it("are too faint where the range leaves less than 1 L*, or less than a step of what is held", () => {
    const photo = picture(checks(4, 20));
    const scaled = (share: number) => (luminance: number) =>
      luminanceFromLightness(50 + share * (lightness(luminance) - 50));
    const faint = { wanted: scaled(0.03) };
    expect(shareOf(fatesOf({ photo, piece: photo.map(faint.wanted) }, faint), "faint")).toBe(1);
    const unsteady = { wanted: scaled(0.5), heldStep: () => 11 };
    expect(shareOf(fatesOf({ photo, piece: photo.map(unsteady.wanted) }, unsteady), "faint")).toBe(1);
  });

  it("are merged into the bare surface or solid fill where the piece has no other tone", () => {
    const photo = picture(checks(4, 20));
    expect(shareOf(fatesOf({ photo, piece: picture(() => 99) }), "bare")).toBe(1);
    expect(shareOf(fatesOf({ photo, piece: picture(() => 1) }), "solid")).toBe(1);
    expect(shareOf(fatesOf({ photo, piece: picture(() => 50) }), "faint")).toBe(1);
  });

  it("are merged, not clipped by levels, in a drawing of two tones", () => {
    const photo = picture(checks(4, 20));
    const ink = picture(() => 0);
    expect(shareOf(fatesOf({ photo, toned: ink, piece: ink }, { twoTones: true }), "solid")).toBe(1);
    expect(shareOf(fatesOf({ photo, toned: ink, piece: ink }), "levels")).toBe(1);
  });

  it("are lost if the piece shows them the wrong way round, or shows grain instead", () => {
    const photo = picture(checks(4, 20));
    expect(shareOf(fatesOf({ photo, piece: picture(checks(4, -20)) }), "kept")).toBe(0);
    const random = seededRandom(1);
    // Grain of 1 L*, as strong as a halftone may show at all.
    const grain = picture(() => 50 + 2 * (random() - 0.5) * Math.sqrt(3));
    expect(shareOf(fatesOf({ photo, piece: grain }), "kept")).toBeLessThan(0.03);
  });

  it("show through grain", () => {
    const photo = picture(checks(4, 20));
    const random = seededRandom(2);
    const pattern = checks(4, 20);
    const grainy = picture((x, y) => pattern(x, y) + 2 * (random() - 0.5) * Math.sqrt(3));
    expect(shareOf(fatesOf({ photo, piece: grainy }), "kept")).toBe(1);
  });

  it("do not count where nothing is judged", () => {
    const judged = new Uint8Array(columns * rows);
    judged[2000] = 1;
    const fate = fatesOf({ photo: picture(checks(4, 20)), judged });
    expect([...fate.keys()].filter((i) => fate[i] !== 0)).toEqual([2000]);
  });
});

/** L* of CIE 15 above its straight part, without the code under test. */
function lightness(luminance: number): number {
  return 116 * Math.cbrt(luminance) - 16;
}
