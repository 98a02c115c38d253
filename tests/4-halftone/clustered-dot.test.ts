import { describe, expect, it } from "vitest";
import { clusteredScreen } from "../../src/4-halftone/clustered-dot.js";
import type { HalftoneSettings } from "../../src/4-halftone/method.js";
import { startOrdered } from "../../src/4-halftone/ordered.js";
import type { ThresholdTile } from "../../src/4-halftone/threshold-tile.js";
import { PowerSpectrum } from "../../src/5-burn/power-spectrum.js";
import { fractionCode } from "../../src/core/burn-fraction.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { publishedTable } from "../support/halftone-tables.js";
import { amplitudeAt, rulingIn } from "./screen-spectrum.js";

const PITCH_MM = 0.1;

interface PublishedScreen {
  readonly a: number;
  readonly b: number;
  readonly angle_deg: number;
  readonly cell_area_px: number;
  readonly period_px: number;
}

const published = publishedTable<{ screens: readonly PublishedScreen[] }>(
  "clustered-dot/rational-tangent-screens",
).screens;

const isPermutation = (ranks: ArrayLike<number>) =>
  new Set(Array.from(ranks)).size === ranks.length && Math.max(...Array.from(ranks)) === ranks.length - 1;

/** The pixels of a flat tint, 0 or 1. */
function tintOf(tile: ThresholdTile, fraction: number, sidePx: number): Uint8Array {
  const release = simdMemory.mark();
  const size = { columns: sidePx, rows: sidePx };
  const work = { ...size, bandRows: sidePx, memory: simdMemory };
  const band = startOrdered(tile, work, halftoneSettings());
  band.fractions.fill(fractionCode(fraction));
  band.run(0, sidePx);
  const bits = unpackBitmap({ ...size, levels: 2, stride: sidePx / 8, bytes: band.packed });
  release();
  return bits;
}

describe.each(published.map((screen) => [`${screen.a}, ${screen.b}`, screen] as const))(
  "published screen with steps %s",
  (_name, { a, b, angle_deg, cell_area_px, period_px }) => {
    const screen = clusteredScreen(
      halftoneSettings({ screenLinesPerInch: 25.4 / (period_px * PITCH_MM), screenAngleDeg: angle_deg }),
    );
    const tile = screen.tile();

    it("has the angle and period of the table, and whole cells in its tile", () => {
      expect(Math.abs(screen.angleDeg - angle_deg)).toBeLessThan(0.5);
      expect(Math.abs(25.4 / screen.linesPerInch / PITCH_MM / period_px - 1)).toBeLessThan(0.005);
      expect(tile.rankCount).toBe(tile.columns * tile.rows);
      expect(isPermutation(tile.ranks)).toBe(true);
    });

    /** By the formula of ISO 32000-1, 10.5.5. */
    const spotAt = (index: number): number => {
      const [x, y] = [(index % tile.columns) + 0.5, Math.floor(index / tile.columns) + 0.5];
      const [u, v] = [(x * a + y * b) / cell_area_px, (y * a - x * b) / cell_area_px];
      return (Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v)) / 2;
    };

    const cells = tile.rankCount / cell_area_px;

    // Where the tile has the very cells of the table, the formula says which pixels burn after each turn of all cells.
    if (!Number.isInteger(cells)) return;
    it("grows its dots in the order of the cosine spot function, to a hundredth of its range", () => {
      const byRank: number[] = [];
      tile.ranks.forEach((rank, index) => {
        byRank[rank] = spotAt(index);
      });
      const sorted = [...byRank].sort((p, q) => q - p);
      for (let pixels = 1; pixels < cell_area_px; pixels++) {
        let lost = 0;
        for (let rank = 0; rank < pixels * cells; rank++) lost += sorted[rank] - byRank[rank];
        expect(lost / (pixels * cells)).toBeLessThan(0.01);
      }
    });
  },
);

interface Asked {
  readonly name: string;
  readonly settings: HalftoneSettings;
}

/** Ruling, angle and pitches at random, periods of 2 to 12 pixels. */
function randomScreens(count: number, seed: number, changes: Partial<HalftoneSettings> = {}): Asked[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => {
    const pitch = { alongMm: 0.03 + 0.06 * random(), acrossMm: 0.03 + 0.06 * random() };
    const periodMm = (2 + 8 * random()) * Math.sqrt(pitch.alongMm * pitch.acrossMm);
    const screenAngleDeg = 5 + 80 * random();
    const settings = halftoneSettings({
      pitch,
      screenLinesPerInch: 25.4 / periodMm,
      screenAngleDeg,
      ...changes,
    });
    return { name: JSON.stringify({ pitch, periodMm, screenAngleDeg }), settings };
  });
}

describe("a screen of any ruling and angle, on pixels of unequal pitch", () => {
  it("has the ruling and angle that were asked for, seen in the bits", () => {
    for (const { name, settings } of randomScreens(12, 5)) {
      const screen = clusteredScreen(settings);
      const { screenLinesPerInch: asked, screenAngleDeg, pitch } = settings;
      const tint = { pixels: tintOf(screen.tile(), 0.4, 192), sidePx: 192, pitch };
      const seen = rulingIn(tint, asked, screenAngleDeg);
      expect(seen.amplitude, name).toBeGreaterThan(0.1);
      // Half a percent and half a degree, and the resolution of the search.
      expect(Math.abs(seen.linesPerInch / asked - 1), name).toBeLessThan(0.006);
      expect(Math.abs(seen.angleDeg - screenAngleDeg), name).toBeLessThan(0.56);
      expect(Math.abs(seen.linesPerInch / screen.linesPerInch - 1), name).toBeLessThan(0.006);
      // The two sides of a cell may be half a degree from the right angle each way.
      expect(Math.abs(seen.angleDeg - screen.angleDeg), name).toBeLessThan(0.56);
    }
  });

  it("says the ruling within 0.5 % and the angle within 0.5°, from 175 to 1100 lines per inch at 45°", () => {
    for (let linesPerInch = 175; linesPerInch <= 1100; linesPerInch += 5) {
      const pitch = { alongMm: 25.4 / linesPerInch, acrossMm: 25.4 / linesPerInch };
      const screen = clusteredScreen(halftoneSettings({ pitch, screenLinesPerInch: 25.4 / 0.23 }));
      expect(Math.abs(screen.linesPerInch / (25.4 / 0.23) - 1)).toBeLessThan(0.0051);
      expect(Math.abs(screen.angleDeg - 45)).toBeLessThan(0.5);
      // A whole repeat fits into a patch of the tone curve.
      expect(screen.repeat.columns * screen.repeat.rows).toBeLessThanOrEqual(6400);
    }
  });

  it("has a thousand tones or more, each pixel its own", () => {
    for (const { settings } of randomScreens(40, 6)) {
      const screen = clusteredScreen(settings);
      const tile = screen.tile();
      expect(isPermutation(tile.ranks)).toBe(true);
      expect(tile.rankCount).toBeGreaterThanOrEqual(1000);
      expect([tile.columns, tile.rows]).toEqual([screen.repeat.columns, screen.repeat.rows]);
    }
  });

  it("closes round a ring", () => {
    for (const columns of [32, 416, 1008, 2528, 3232]) {
      for (const { settings } of randomScreens(4, columns, { ringColumns: columns })) {
        expect(columns % clusteredScreen(settings).repeat.columns).toBe(0);
      }
    }
  });
});

/**
 * Power of a tint below four tenths of the frequency of its screen, or of its pixels spread evenly if they are fewer than the dots
 * (Ulichney's principal frequency): 1 for white noise of as many pixels.
 */
function lowPower(tile: ThresholdTile, fraction: number, periodPx: number): number {
  const side = 128;
  const pixels = tintOf(tile, fraction, side);
  const window = Float64Array.from(
    { length: side },
    (_, k) => 1 - Math.cos((2 * Math.PI * (k + 0.5)) / side),
  );
  const mean =
    pixels.reduce((sum, pixel, i) => sum + pixel * window[i % side] * window[Math.floor(i / side)], 0) /
    side ** 2;
  const data = Float64Array.from(
    pixels,
    (pixel, i) => (pixel - mean) * window[i % side] * window[Math.floor(i / side)],
  );
  const power = new PowerSpectrum(side, side).of({ data, from: 0, stride: side }, 0);
  const highest = 0.4 * Math.min(1 / periodPx, Math.sqrt(Math.min(fraction, 1 - fraction)));
  let [sum, count] = [0, 0];
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const radius = Math.hypot(Math.min(x, side - x), Math.min(y, side - y)) / side;
      if (radius < 2.5 / side || radius > highest) continue;
      sum += power[y * side + x];
      count++;
    }
  }
  // The squared window has a mean of (3/2)².
  return sum / count / (2.25 * mean * (1 - mean));
}

describe("a tint shows no pattern coarser than the screen", () => {
  // Cells of few pixels, and of nearly whole pixels, which would beat slowly.
  it.each([1.6, 2.04, 2.26, 2.72, 3.03, 3.62, 4.3, 4.97, 6.34, 9.6, 12.45])(
    "period %f pixels",
    (periodPx) => {
      const settings = halftoneSettings({ screenLinesPerInch: 25.4 / (periodPx * PITCH_MM) });
      const tile = clusteredScreen(settings).tile();
      for (const fraction of [0.05, 0.25, 0.38, 0.5, 0.62, 0.75, 0.95]) {
        // By the order of the spot function alone it is 0.2 to 2.5.
        const isTint = fraction >= 0.25 && fraction <= 0.75;
        const most = periodPx < 2.5 ? 0.08 : 0.04;
        expect(lowPower(tile, fraction, periodPx), `${fraction}`).toBeLessThan(isTint ? most : 0.18);
      }
    },
  );

  it("and shadows mirror highlights", () => {
    for (const { name, settings } of randomScreens(8, 9)) {
      const { screenLinesPerInch, screenAngleDeg, pitch } = settings;
      const { linesPerInch, angleDeg, tile } = clusteredScreen(settings);
      expect(linesPerInch / screenLinesPerInch + angleDeg / screenAngleDeg, name).toBeCloseTo(2, 1);
      const [perMm, radians] = [linesPerInch / 25.4, (angleDeg * Math.PI) / 180];
      const made = tile();
      for (const fraction of [0.1, 0.25, 0.4]) {
        const amplitudes = [fraction, 1 - fraction].map((share) => {
          const tint = { pixels: tintOf(made, share, 128), sidePx: 128, pitch };
          return amplitudeAt(tint, perMm * Math.cos(radians), perMm * Math.sin(radians));
        });
        expect(Math.abs(amplitudes[0] / amplitudes[1] - 1), `${name} ${fraction}`).toBeLessThan(0.12);
      }
    }
  });
});

describe("the ends of the range of rulings", () => {
  it("a ruling finer than the pixels disperses single pixels", () => {
    const screen = clusteredScreen(halftoneSettings({ screenLinesPerInch: 500 }));
    // Bayer's tile begins with 0, 2 / 3, 1 at every scale.
    const { ranks, columns } = screen.tile();
    expect(
      [ranks[0], ranks[1], ranks[columns], ranks[columns + 1]].map((rank) => Math.floor(rank / 64)),
    ).toEqual([0, 2, 3, 1]);
    expect(screen.linesPerInch).toBeCloseTo(254, 10);
  });

  it("a cell larger than a ring disperses single pixels too, so that it closes", () => {
    const settings = halftoneSettings({ screenLinesPerInch: 2, ringColumns: 16 });
    expect(clusteredScreen(settings).repeat.columns).toBe(16);
  });

  it("a cell of more than 65536 pixels keeps each rank apart", () => {
    const settings = { pitch: { alongMm: 0.01, acrossMm: 0.01 }, screenLinesPerInch: 8, screenAngleDeg: 0 };
    const tile = clusteredScreen(halftoneSettings(settings)).tile();
    expect(tile.rankCount).toBeGreaterThan(65536);
    expect(new Set(tile.ranks).size).toBe(tile.rankCount);
  });
});
