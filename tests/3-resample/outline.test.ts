import { describe, expect, it } from "vitest";
import { type Outline, outlineRows } from "../../src/3-resample/outline.js";
import { depthInOval } from "../../src/3-resample/oval.js";
import { BORDER } from "../../src/core/picture-edge.js";

const plain: Outline = {
  oval: false,
  closed: false,
  borderVerticalMm: 0,
  borderHorizontalMm: 0,
  gapMm: 0,
  vignetteMm: 0,
};
const pitch = { alongMm: 0.05, acrossMm: 0.08 };

/** All shares, row-major, of a picture that fills its bitmap. */
function shares(outline: Outline, columns: number, rows: number): Float32Array {
  const row = outlineRows(outline, { left: 0, top: 0, columns, rows }, columns, pitch);
  const out = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) out.set(row(y), y * columns);
  return out;
}

const areaMm2 = (all: Float32Array, counts: (share: number) => boolean): number =>
  all.filter(counts).length * pitch.alongMm * pitch.acrossMm;

/** S. Ramanujan, "Modular equations and approximations to π", Q. J. Math. 45 (1914): within 1e-9 for these. */
function perimeterOfEllipse(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}

describe("the depth inside an oval", () => {
  it.each([
    [30, 20],
    [20, 30],
    [25, 25],
    [50, 3],
  ])("of %f × %f is the distance to the nearest of 200 000 points of it", (a, b) => {
    for (const [u, v] of [
      [0, 0],
      [0.1, 0.2],
      [0.9, 0],
      [0, 0.95],
      [-0.5, 0.7],
      [0.6, -0.6],
      [0.999, 0.01],
      [0.3, 1e-6],
    ]) {
      const [x, y] = [u * a, v * b];
      let least = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 200_000; k++) {
        const angle = (2 * Math.PI * k) / 200_000;
        least = Math.min(least, Math.hypot(x - a * Math.cos(angle), y - b * Math.sin(angle)));
      }
      // The points lie up to 0.0008 apart, so between two of them a nearer one may be missed by 0.0004² / 2 / least.
      expect(depthInOval(x, y, a, b)).toBeGreaterThan(least - 1e-5);
      expect(depthInOval(x, y, a, b)).toBeLessThanOrEqual(least + 1e-9);
    }
  });

  it("is negative outside", () => {
    expect(depthInOval(30.001, 0, 30, 20)).toBeLessThan(0);
    expect(depthInOval(22, 15, 30, 20)).toBeLessThan(0);
  });
});

describe("an oval", () => {
  const [columns, rows] = [1200, 500]; // 60 × 40 mm
  const [a, b] = [30, 20];

  it("has π/4 of the area of its box", () => {
    const all = shares({ ...plain, oval: true }, columns, rows);
    expect(areaMm2(all, (share) => share === 1) / ((Math.PI / 4) * 60 * 40)).toBeCloseTo(1, 3);
    expect(all.every((share) => share === 0 || share === 1)).toBe(true);
  });

  it("has a border as wide as asked for, all round", () => {
    // Area between a curve and its inner parallel at distance t: perimeter · t − π t² (J. Steiner, 1840).
    const t = 1.5;
    const all = shares({ ...plain, oval: true, borderVerticalMm: t, borderHorizontalMm: t }, columns, rows);
    const ringMm2 = perimeterOfEllipse(a, b) * t - Math.PI * t * t;
    expect(areaMm2(all, (share) => share === BORDER) / ringMm2).toBeCloseTo(1, 3);
  });

  it("has a border that does not break where it is thinner than a pixel", () => {
    const all = shares({ ...plain, oval: true, borderVerticalMm: 0.01, borderHorizontalMm: 0.01 }, 120, 70);
    for (let y = 0; y < 70; y++) expect(all.subarray(y * 120, (y + 1) * 120)).toContain(BORDER);
    for (let x = 0; x < 120; x++) {
      expect(Array.from({ length: 70 }, (_, y) => all[y * 120 + x])).toContain(BORDER);
    }
  });

  it("leaves its gap bare and fades in from there over the vignette", () => {
    const outline = {
      oval: true,
      closed: false,
      borderVerticalMm: 1,
      borderHorizontalMm: 1,
      gapMm: 2,
      vignetteMm: 4,
    };
    const all = shares(outline, columns, rows);
    for (let i = 0; i < all.length; i += 37) {
      const x = ((i % columns) + 0.5 - columns / 2) * pitch.alongMm;
      const y = (Math.floor(i / columns) + 0.5 - rows / 2) * pitch.acrossMm;
      const depthMm = depthInOval(x, y, a, b);
      const wanted =
        depthMm < 0 ? 0 : depthMm < 1 ? BORDER : depthMm < 3 ? 0 : Math.min(1, (depthMm - 3) / 4);
      expect(all[i]).toBeCloseTo(wanted, 6);
    }
  });

  it("is the same from all sides", () => {
    const all = shares({ ...plain, oval: true, vignetteMm: 3 }, 121, 80);
    expect(all.slice().reverse()).toEqual(all);
  });
});

describe("a rectangle", () => {
  it("is left alone where nothing is asked for", () => {
    expect(shares(plain, 20, 10).every((share) => share === 1)).toBe(true);
  });

  it("has a border of whole pixels, a gap and the picture in it", () => {
    // 3 pixels upright (0.15 mm), 2 level (0.16 mm), a gap of 0.1 mm: two columns, and one row of 0.08 mm and a bit.
    const all = shares({ ...plain, borderVerticalMm: 0.15, borderHorizontalMm: 0.16, gapMm: 0.1 }, 40, 20);
    const middleRow = [...all.subarray(10 * 40, 11 * 40)];
    expect(middleRow.slice(0, 7)).toEqual([BORDER, BORDER, BORDER, 0, 0, 1, 1]);
    expect(middleRow.reverse().slice(0, 7)).toEqual([BORDER, BORDER, BORDER, 0, 0, 1, 1]);
    const middleColumn = Array.from({ length: 20 }, (_, y) => all[y * 40 + 20]);
    expect(middleColumn.slice(0, 5)).toEqual([BORDER, BORDER, 0, 1, 1]);
    expect(middleColumn.slice(-2)).toEqual([BORDER, BORDER]);
  });

  it("fades straight from its sides, and round its corners", () => {
    const columns = 400; // 20 mm
    const rows = 250; // 20 mm
    const all = shares({ ...plain, vignetteMm: 4 }, columns, rows);
    const at = (x: number, y: number) => all[y * columns + x];
    // Pixel 39 along lies 1.975 mm from the side: 1.975 / 4.
    expect(at(39, 125)).toBeCloseTo(1.975 / 4, 6);
    expect(at(columns - 40, 125)).toBeCloseTo(1.975 / 4, 6);
    // Row 24 lies 1.96 mm from the top.
    expect(at(200, 24)).toBeCloseTo(1.96 / 4, 6);
    expect(at(200, 125)).toBe(1);
    // Near the corner the missing shares add up like the sides of a right triangle: 3-4-5, in quarters of a vignette.
    const missing = Math.hypot(4 - 1.975, 4 - 1.96);
    expect(at(39, 24)).toBeCloseTo(1 - missing / 4, 6);
    expect(at(0, 0)).toBe(0);
  });

  it("counts from the picture's place where that does not fill the bitmap, and is bare beside it", () => {
    const placement = { left: 10, top: 5, columns: 20, rows: 10 };
    const row = outlineRows(
      { ...plain, borderVerticalMm: 0.05, borderHorizontalMm: 0.08 },
      placement,
      40,
      pitch,
    );
    expect(row(4).every((share) => share === 0)).toBe(true);
    expect([...row(5)].map((share) => share === BORDER)).toEqual(
      Array.from({ length: 40 }, (_, x) => x >= 10 && x < 30),
    );
    expect([...row(7).subarray(8, 13)]).toEqual([0, 0, BORDER, 1, 1]);
  });

  it("has no left and right side where the picture goes all the way round", () => {
    const outline = {
      ...plain,
      closed: true,
      borderVerticalMm: 0.1,
      borderHorizontalMm: 0.16,
      gapMm: 0.08,
      vignetteMm: 0.4,
    };
    const all = shares(outline, 40, 30);
    for (let y = 0; y < 30; y++) {
      const row = all.subarray(40 * y, 40 * (y + 1));
      expect(row.every((share) => share === row[0])).toBe(true);
      // Two rows of border, one of gap; then a fifth of the vignette for each row.
      const inwards = Math.min(y, 29 - y);
      const wanted = inwards < 2 ? BORDER : inwards < 3 ? 0 : Math.min(1, (inwards - 2.5) / 5);
      expect(row[0]).toBeCloseTo(wanted, 6);
    }
  });
});
