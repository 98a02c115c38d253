import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { findHalftoneMethod, halftone } from "../../src/4-halftone/halftone.js";
import type { HalftoneMethod, Scan } from "../../src/4-halftone/method.js";
import { fractionCode } from "../../src/core/burn-fraction.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { columnsOf, plane, rowsOf } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import { halftoneBits, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

const all = halftoneMethods.map((method) => [method.id, method] as const);
const diffusions = all.filter(
  ([, { family }]) => /diffusion|green/.test(family) && family !== "dot diffusion",
);
const randomised = ["zhou-fang", "green-noise"];

/** Random fractions that binary numbers hold exactly, with their complements. */
function noise(size: number, seed: number): Float32Array {
  const random = seededRandom(seed);
  return Float32Array.from({ length: size }, () => Math.floor(random() * 4096) / 4096 + 1 / 8192);
}

describe.each(all)("%s", (id, method) => {
  const columns = 96;
  const rows = 64;
  const fractions = noise(columns * rows, 3);
  const run = (changes = {}) => halftoneBits(method, fractions, columns, rows, halftoneSettings(changes));

  it("does not change its input, and gives only 0 and 1", () => {
    const before = fractions.slice();
    const bits = run();
    expect(fractions).toEqual(before);
    expect(new Set(bits)).toEqual(new Set([0, 1]));
  });

  it("gives the same bits each time", () => {
    expect(run()).toEqual(run());
  });

  it(`${randomised.includes(id) ? "changes" : "does not change"} with the seed`, () => {
    const bits = run();
    const same = run({ seed: 2 }).every((bit, i) => bit === bits[i]);
    expect(same).toBe(!randomised.includes(id));
  });

  it("leaves bare what asks for nothing and burns all of what asks for all", () => {
    for (const fraction of [0, 1]) {
      const flat = new Float32Array(columns * rows).fill(fraction);
      const bits = halftoneBits(method, flat, columns, rows, halftoneSettings());
      expect(new Set(bits)).toEqual(new Set([fraction]));
    }
  });

  it("never falls along a rising ramp, and follows it where it keeps the mean", () => {
    const bands = 16;
    const bandPx = 32;
    const width = bands * bandPx;
    const height = 256;
    const ramp = Float32Array.from({ length: width * height }, (_, i) => ((i % width) + 0.5) / width);
    const bits = halftoneBits(method, ramp, width, height, halftoneSettings());
    const means = new Array<number>(bands).fill(0);
    bits.forEach((bit, i) => {
      means[Math.floor((i % width) / bandPx)] += bit / (bandPx * height);
    });
    means.forEach((mean, band) => {
      if (band > 0) expect(mean).toBeGreaterThanOrEqual(means[band - 1]);
      // Half a step of the coarsest screen, five tones, is 1/8; the others come within 1/50.
      if (method.keepsMean && !method.asksForArea) {
        const slack = { "bayer-2": 1 / 8, "bayer-4": 1 / 32 }[id] ?? 1 / 50;
        expect(Math.abs(mean - (band + 0.5) / bands)).toBeLessThan(slack);
      }
    });
  });
});

/*
 * Serpentine lines mirror the stencil on the way back. A blank line on top passes no error down but reverses the scan of each line
 * below. So the mirrored picture under a blank line is scanned as the mirror image, and its bits are exactly the mirror image.
 * Methods with random numbers are left out, because the numbers follow the scan.
 */
it.each(diffusions.filter(([id]) => !randomised.includes(id)))(
  "%s: the way back is the mirror image of the way there",
  (_id, method) => {
    const columns = 61;
    const rows = 40;
    const fractions = noise(columns * rows, 4);
    const mirror = (i: number) => i - (i % columns) + columns - 1 - (i % columns);

    const below = new Float32Array(columns * (rows + 1));
    fractions.forEach((_fraction, i) => {
      below[columns + i] = fractions[mirror(i)];
    });
    /** The method's rows as they come, without the lead-in, which would see the blank line twice. */
    const rowByRow = (picture: Float32Array): Uint8Array => {
      const bandRows = picture.length / columns;
      const band = method.start(
        { columns, rows: bandRows, bandRows, memory: simdMemory },
        halftoneSettings(),
      );
      band.fractions.set(picture.map(fractionCode));
      band.run(0, bandRows);
      const { packed: bytes } = band;
      return unpackBitmap({ columns, rows: bandRows, levels: 2, stride: bytes.length / bandRows, bytes });
    };
    const straight = rowByRow(fractions);
    const mirrored = rowByRow(below).subarray(columns);
    expect(mirrored.map((_bit, i) => mirrored[mirror(i)])).toEqual(straight);
  },
);

/*
 * Marks and blanks are treated alike: the bits of the negative are the negative of the bits. Only in a few patches rounding or a tie
 * differs, and there the number of dots is the same. Zhou and Fang's method is the exception: its threshold noise is one-sided.
 */
it.each(diffusions.filter(([id]) => id !== "zhou-fang"))(
  "%s: the negative of the picture gives all but the negative of the bits",
  (_id, method) => {
    const [columns, rows, block] = [96, 64, 8];
    const fractions = noise(columns * rows, 5);
    const complement = fractions.map((fraction) => 1 - fraction);
    const positive = halftoneBits(method, fractions, columns, rows, halftoneSettings());
    const negative = halftoneBits(method, complement, columns, rows, halftoneSettings());
    const excess = new Map<number, number>();
    let differing = 0;
    positive.forEach((bit, i) => {
      const blockOf = Math.floor(i / columns / block) * columns + Math.floor((i % columns) / block);
      const difference = bit + negative[i] - 1;
      excess.set(blockOf, (excess.get(blockOf) ?? 0) + difference);
      differing += Math.abs(difference);
    });
    expect(differing / positive.length).toBeLessThan(1 / 5);
    for (const sum of excess.values()) expect(Math.abs(sum)).toBeLessThanOrEqual(4);
  },
);

describe("centroid of a soft blob", () => {
  const side = 96;

  const RADIUS_PX = 36;

  /** The blob at 16 places between pixels. */
  const blobs = Array.from({ length: 16 }, (_, place) => {
    const centreX = 48 + (place % 4) / 4;
    const centreY = 48 + Math.floor(place / 4) / 4;
    return Float32Array.from({ length: side * side }, (_value, i) => {
      const x = (i % side) - centreX;
      const y = Math.floor(i / side) - centreY;
      // Nothing beyond the radius, or the dots of an endless faint tail would weigh in from afar.
      const radius = Math.hypot(x, y);
      return radius < RADIUS_PX ? 0.25 * (1 + Math.cos((Math.PI * radius) / RADIUS_PX)) : 0;
    });
  });
  const wanted = blobs.map(centroid);

  /** Centroid of the bits less that of the fractions, in pixels, averaged over the places of the blob. */
  function drift(method: HalftoneMethod, scan: Scan): { x: number; y: number } {
    const mean = { x: 0, y: 0 };
    blobs.forEach((blob, place) => {
      const settings = halftoneSettings({ scan, seed: place });
      const got = centroid(halftoneBits(method, blob, side, side, settings));
      mean.x += (got.x - wanted[place].x) / blobs.length;
      mean.y += (got.y - wanted[place].y) / blobs.length;
    });
    return mean;
  }

  function centroid(values: ArrayLike<number>): { x: number; y: number } {
    let weight = 0;
    let x = 0;
    let y = 0;
    for (let i = 0; i < values.length; i++) {
      weight += values[i];
      x += values[i] * (i % side);
      y += values[i] * Math.floor(i / side);
    }
    return { x: x / weight, y: y / weight };
  }

  /*
   * Diffusion moves a picture a little along with the scan and downwards (S. Hocevar and G. Niger, "Reinstating
   * Floyd–Steinberg: improved metrics for quality assessment of error diffusion algorithms", ICISP 2008). Downwards it is more
   * here, since the blob's faint upper edge has to gather error before its first dots come.
   */
  it.each(all.filter(([id]) => id !== "threshold"))("%s moves it hardly", (id, method) => {
    const serpentine = drift(method, "serpentine");
    const raster = drift(method, "raster");
    expect(Math.abs(raster.x)).toBeLessThan(2);
    for (const { y } of [serpentine, raster]) expect(Math.abs(y)).toBeLessThan(2);
    // Serpentine lines move it to neither side, and methods without neighbours do not move it.
    const isDiffusion = diffusions.some(([name]) => name === id);
    expect(Math.abs(serpentine.x)).toBeLessThan(isDiffusion ? 0.1 : 0.6);
    if (!isDiffusion) expect(Math.abs(serpentine.y)).toBeLessThan(0.6);
  });
});

describe("halftone()", () => {
  const method = findHalftoneMethod("floyd-steinberg");

  it("keeps shape and pitch", () => {
    const pitch = { alongMm: 0.1, acrossMm: 0.05 };
    const bitmap = halftone(method, plane("burn-fraction", noise(60, 1), 5, 12, pitch), halftoneSettings());
    expect([rowsOf(bitmap), columnsOf(bitmap), bitmap.space]).toEqual([5, 12, "bitmap"]);
    expect(bitmap.pitch).toEqual(pitch);
  });

  it.each(all)("%s takes a picture of one pixel, one row, one column", (_id, one) => {
    for (const [columns, rows] of [
      [1, 1],
      [9, 1],
      [1, 9],
    ]) {
      const bits = halftoneBits(
        one,
        new Float32Array(columns * rows).fill(1),
        columns,
        rows,
        halftoneSettings(),
      );
      expect([...bits]).toEqual(new Array(columns * rows).fill(1));
    }
  });

  it("refuses a method that it does not know", () => {
    expect(() => findHalftoneMethod("no-such-method")).toThrow(SpotpitchError);
    expect(() => findHalftoneMethod("no-such-method")).toThrow(
      expect.objectContaining({ code: "OPTION_METHOD_UNKNOWN" }),
    );
  });

  it("names each method once", () => {
    expect(new Set(halftoneMethods.map(({ id }) => id)).size).toBe(halftoneMethods.length);
  });
});
