import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import {
  type ClassMatrix,
  knuthClasses,
  meseVaidyanathanClasses,
} from "../../src/4-halftone/class-matrices.js";
import { halftoneCodes } from "../../src/4-halftone/halftone.js";
import { HalftoneStream } from "../../src/4-halftone/halftone-stream.js";
import { diffusionKernels } from "../../src/4-halftone/kernels.js";
import type { HalftoneMethod, HalftoneSettings } from "../../src/4-halftone/method.js";
import { ostromoukhovRows } from "../../src/4-halftone/variable-coefficients.js";
import { sharesFromKeyRows } from "../../src/4-halftone/variable-weights.js";
import { bytesPerRow, unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { whole } from "../reference/arithmetic.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { publishedTable } from "../support/halftone-tables.js";

const RING = 96;
const ROWS = 70;
const ONE = whole.one;

function noise(columns: number, rows: number, seed: number): Int16Array {
  const random = seededRandom(seed);
  return Int16Array.from({ length: columns * rows }, () =>
    random() < 0.05 ? -1 : Math.floor((ONE + 1) * random()),
  );
}

/** The bits, or power levels, of one band without the lead-in, as bytes. */
function ringBits(method: HalftoneMethod, fractions: Int16Array, settings: HalftoneSettings): Uint8Array {
  const columns = settings.ringColumns;
  const rows = fractions.length / columns;
  const band = method.start({ columns, rows, bandRows: 2 * rows, memory: simdMemory }, settings);
  band.fractions.set(fractions);
  band.run(0, rows + band.delayRows);
  const { levels } = settings;
  const stride = bytesPerRow(columns, levels);
  const bytes = band.packed.slice(band.delayRows * stride, (band.delayRows + rows) * stride);
  return unpackBitmap({ columns, rows, levels, stride, bytes });
}

/** Error round a ring, row by row. Error for a pixel that is done goes to the pixel below it. */
class NaiveRing {
  readonly error: Float64Array[] = [];
  private readonly done = new Set<number>();

  constructor(
    readonly columns: number,
    rows: number,
  ) {
    for (let y = 0; y < rows + 4; y++) this.error.push(new Float64Array(columns));
  }

  at(x: number): number {
    return ((x % this.columns) + this.columns) % this.columns;
  }

  add(x: number, y: number, share: number): void {
    const to = this.at(x);
    this.error[this.done.has(y * this.columns + to) ? y + 1 : y][to] += share;
  }

  /** Visits the pixels of row y in the order of the scan: from the golden section's next column, all the way round. */
  scan(y: number, serpentine: boolean, visit: (x: number, step: 1 | -1) => void): void {
    const start = Math.floor((((y * (Math.sqrt(5) - 1)) / 2) % 1) * this.columns);
    const step = serpentine && y % 2 === 1 ? -1 : 1;
    for (let n = 0; n < this.columns; n++) {
      const x = this.at(step === 1 ? start + n : start - 1 - n);
      visit(x, step);
      this.done.add(y * this.columns + x);
    }
  }
}

type Decide = (ring: NaiveRing, fractions: Int16Array, serpentine: boolean) => Uint8Array;

function naive(rule: (ring: NaiveRing, asked: number, x: number, y: number, step: 1 | -1) => number): Decide {
  return (ring, fractions, serpentine) => {
    const bits = new Uint8Array(fractions.length);
    for (let y = 0; y < fractions.length / ring.columns; y++) {
      ring.scan(y, serpentine, (x, step) => {
        const fraction = fractions[y * ring.columns + x];
        const bit = rule(ring, Math.max(0, fraction), x, y, step);
        bits[y * ring.columns + x] = fraction < 0 ? 0 : bit;
      });
    }
    return bits;
  };
}

/** The nearest of n levels, and its value. */
function nearest(wanted: number, levels: number): readonly [level: number, worth: number] {
  const level = Math.min(levels - 1, Math.max(0, Math.floor((wanted * (levels - 1)) / ONE + 0.5)));
  return [level, whole.levelOf(level, levels)];
}

const naiveStencil = (id: string, levels = 2): Decide => {
  const { taps, divisor } = diffusionKernels.find((kernel) => kernel.id === id) ?? diffusionKernels[0];
  const shares = taps.map(([, , weight]) => weight / divisor);
  const below = taps.findIndex(([dx, dy]) => dx === 0 && dy === 1);
  return naive((ring, asked, x, y, step) => {
    const wanted = asked + ring.error[y][x];
    const [level, worth] = nearest(wanted, levels);
    const parts = whole.split(wanted - worth, shares, below < 0 ? taps.length - 1 : below);
    taps.forEach(([dx, dy], k) => {
      ring.add(x + step * dx, y + dy, parts[k]);
    });
    return level;
  });
};

const naiveOstromoukhov =
  (levels = 2): Decide =>
  (ring, fractions, serpentine) => {
    const shares = sharesFromKeyRows(ostromoukhovRows);
    return naive((_ring, asked, x, y, step) => {
      const place = Math.min(255, Math.round((((asked * (levels - 1)) % ONE) / ONE) * 255));
      const folded = place < 128 ? place : 255 - place;
      const wanted = asked + ring.error[y][x];
      const [level, worth] = nearest(wanted, levels);
      const [ahead, behind, below] = whole.split(
        wanted - worth,
        shares.subarray(3 * folded, 3 * folded + 3),
        2,
      );
      ring.add(x + step, y, ahead);
      ring.add(x - step, y + 1, behind);
      ring.add(x, y + 1, below);
      return level;
    })(ring, fractions, serpentine);
  };

describe("against error handed round pixel by pixel", () => {
  const rules: readonly [string, Decide][] = [
    ...diffusionKernels.map(({ id }): [string, Decide] => [id, naiveStencil(id)]),
    ["ostromoukhov", naiveOstromoukhov()],
  ];
  it.each(rules)("%s gives the same bits, both scans", (id, decide) => {
    const method = halftoneMethods.find((candidate) => candidate.id === id) ?? halftoneMethods[0];
    for (const scan of ["serpentine", "raster"] as const) {
      const fractions = noise(RING, ROWS, 7);
      const settings = halftoneSettings({ scan, ringColumns: RING });
      const expected = decide(new NaiveRing(RING, ROWS), fractions, scan === "serpentine");
      expect(ringBits(method, fractions, settings)).toEqual(expected);
    }
  });

  it.each<[string, Decide]>([
    ["jarvis-judice-ninke", naiveStencil("jarvis-judice-ninke", 5)],
    ["floyd-steinberg", naiveStencil("floyd-steinberg", 5)],
    ["ostromoukhov", naiveOstromoukhov(5)],
  ])("%s gives the same power levels, both scans", (id, decide) => {
    const method = halftoneMethods.find((candidate) => candidate.id === id) ?? halftoneMethods[0];
    for (const scan of ["serpentine", "raster"] as const) {
      const fractions = noise(RING, ROWS, 7);
      const settings = halftoneSettings({ scan, ringColumns: RING, levels: 5 });
      const expected = decide(new NaiveRing(RING, ROWS), fractions, scan === "serpentine");
      expect(ringBits(method, fractions, settings)).toEqual(expected);
    }
  });

  it.each<[string, ClassMatrix]>([
    ["dot-diffusion", knuthClasses],
    ["dot-diffusion-16", meseVaidyanathanClasses],
  ])("%s decides its pixels class by class", (id, classes) => {
    const weights = publishedTable<{ neighbour_weights: ClassMatrix }>(
      "dot-diffusion/knuth-8x8",
    ).neighbour_weights;
    const side = classes.length;
    const classAt = (x: number, y: number) => classes[(y + side) % side][(x + side) % side];
    const fractions = noise(RING, ROWS, 8);
    const order = Array.from(fractions.keys()).sort(
      (a, b) => classAt(a % RING, Math.floor(a / RING)) - classAt(b % RING, Math.floor(b / RING)) || a - b,
    );
    const values = Float64Array.from(fractions, (fraction) => Math.max(0, fraction));
    const expected = new Uint8Array(values.length);
    for (const at of order) {
      const [x, y] = [at % RING, Math.floor(at / RING)];
      const bit = values[at] < ONE / 2 ? 0 : 1;
      expected[at] = fractions[at] < 0 ? 0 : bit;
      const later = [-1, 0, 1]
        .flatMap((dy) => [-1, 0, 1].map((dx) => ({ dx, dy })))
        .filter(({ dx, dy }) => classAt(x + dx, y + dy) > classAt(x, y));
      const sum = later.reduce((total, { dx, dy }) => total + weights[1 + dy][1 + dx], 0);
      const shares = later.map(({ dx, dy }) => weights[1 + dy][1 + dx] / sum);
      later.forEach(({ dx, dy }, k) => {
        if (y + dy < 0 || y + dy >= ROWS) return;
        const to = (y + dy) * RING + ((x + dx + RING) % RING);
        values[to] += whole.split(values[at] - ONE * bit, shares, later.length - 1)[k];
      });
    }
    const method = halftoneMethods.find((candidate) => candidate.id === id) ?? halftoneMethods[0];
    expect(ringBits(method, fractions, halftoneSettings({ ringColumns: RING }))).toEqual(expected);
  });
});

const ringMethods = halftoneMethods.filter(({ flatOnly }) => !flatOnly);

describe.each(ringMethods.map((method) => [method.id, method] as const))("%s round a ring", (_id, method) => {
  it("gives the same bytes in both forms and in bands of any height", () => {
    for (const columns of [16, 32, 48, 112, 528]) {
      const settings = halftoneSettings({ ringColumns: columns });
      const fractions = noise(columns, ROWS, columns);
      const { bytes } = halftoneCodes(
        method,
        { codes: fractions, columns, rows: ROWS },
        settings,
        simdMemory,
      );
      expect(
        halftoneCodes(method, { codes: fractions, columns, rows: ROWS }, settings, plainMemory).bytes,
      ).toEqual(bytes);
      for (const bandRows of [1, 7, 64]) {
        const out = new Uint8Array(bytes.length);
        const stream = new HalftoneStream(
          method,
          { columns, rows: ROWS, bandRows },
          settings,
          (packed, y, count) => out.set(packed.subarray(0, (count * columns) / 8), (y * columns) / 8),
          simdMemory,
        );
        for (let y = 0; y < ROWS; y += bandRows) {
          const count = Math.min(bandRows, ROWS - y);
          stream.fractions.set(fractions.subarray(y * columns, (y + count) * columns));
          stream.push(count);
        }
        expect(out).toEqual(bytes);
      }
    }
  });

  it("burns no pixel that must stay bare", () => {
    const fractions = noise(RING, ROWS, 2).map((code) => (code < 0 ? -1 : ONE));
    const settings = halftoneSettings({ ringColumns: RING });
    const bits = unpackBitmap(
      halftoneCodes(method, { codes: fractions, columns: RING, rows: ROWS }, settings),
    );
    expect(bits.every((bit, i) => fractions[i] >= 0 || bit === 0)).toBe(true);
  });
});

it.each(ringMethods.filter(({ keepsMean, id }) => keepsMean && !id.startsWith("bayer")))(
  "$id keeps the mean of a tint round a ring",
  (method) => {
    const settings = halftoneSettings({ ringColumns: 528 });
    for (const fraction of [0.03, 0.27, 0.5, 0.81]) {
      const codes = new Int16Array(528 * 240).fill(Math.round(ONE * fraction));
      const bits = unpackBitmap(halftoneCodes(method, { codes, columns: 528, rows: 240 }, settings));
      expect(Math.abs(bits.reduce((sum, bit) => sum + bit, 0) / bits.length - fraction)).toBeLessThan(0.002);
    }
  },
);
