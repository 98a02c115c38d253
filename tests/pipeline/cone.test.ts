import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { denseData } from "../../src/core/plane.js";
import type { PrepareOptions } from "../../src/index.js";
import { PLAIN } from "../support/plain-piece.js";
import { prepare } from "../support/prepare.js";
import { type Cone, type Point, unroll } from "../support/unroll.js";

/*
 * A disc drawn on a photo must come back as a disc of the unrolled cone. The check knows nothing of the code's formulas: see
 * `unroll.ts`.
 */

const least = (values: readonly number[]) => values.reduce((a, b) => Math.min(a, b));
const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b));

/** The box round the unrolled sheet, found by walking along its edges. */
function boxOf(place: (turn: number, down: number) => Point) {
  const edge = Array.from({ length: 20_001 }, (_, k) => k / 20_000);
  const points = edge.flatMap((s) => [place(s, 0), place(s, 1), place(0, s), place(1, s)]);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { left: least(xs), right: most(xs), top: least(ys), bottom: most(ys) };
}

/** A dark disc on a light photo, edges smooth. */
function disc(width: number, height: number, [cx, cy]: Point, radiusPx: number): Promise<Buffer> {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#fff"/><circle cx="${cx}" cy="${cy}" r="${radiusPx}" fill="#000"/></svg>`;
  return sharp(Buffer.from(svg)).png().toBuffer();
}

const PHOTO = { width: 2400, height: 1300 };

/** Worst distance, in mm, by which a pixel on the wrong side lies beyond the circle's edge; and pixels burned. */
async function roundness(cone: Cone, centre: Point, radiusMm: number, more: PrepareOptions = {}) {
  const place = unroll(cone);
  const box = boxOf(place);
  const mmPerPx = Math.max((box.right - box.left) / PHOTO.width, (box.bottom - box.top) / PHOTO.height);
  // `cover`: the photo lies centred on the box and fills it.
  const inPhoto = ([x, y]: Point): Point => [
    PHOTO.width / 2 + (x - (box.left + box.right) / 2) / mmPerPx,
    PHOTO.height / 2 + (y - (box.top + box.bottom) / 2) / mmPerPx,
  ];
  const photo = await disc(PHOTO.width, PHOTO.height, inPhoto(centre), radiusMm / mmPerPx);
  const { bitmap, report } = await prepare(photo, {
    ...PLAIN,
    aroundMm: { topMm: cone.top, bottomMm: cone.bottom },
    heightMm: cone.slant,
    ...more,
  });
  const { columns, rows, pitchAcrossMm, mirror } = report.job;
  const bits = denseData(bitmap);
  let worstMm = 0;
  let burned = 0;
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const bit = bits[y * columns + (mirror ? columns - 1 - x : x)];
      const [u, v] = place((x + 0.5) / columns, (y + 0.5) / rows);
      const outsideMm = Math.hypot(u - centre[0], v - centre[1]) - radiusMm;
      worstMm = Math.max(worstMm, bit === 1 ? outsideMm : -outsideMm);
      burned += bit;
    }
  }
  return { worstMm, burned, report, pitchAcrossMm };
}

/** Slants are whole numbers of lines at 127 lines per inch: multiples of 0.2 mm. */
const CONES: readonly Cone[] = [
  { top: 80, bottom: 60, slant: 90 },
  { top: 20, bottom: 100, slant: 48 },
];

describe.each(CONES)("a disc on a cone of $top to $bottom mm, $slant mm along its slope", (cone) => {
  const place = unroll(cone);
  const radiusMm = 0.2 * cone.slant;

  it.each([
    ["in front", 0.5, 0.5, {}],
    ["to the left, high up", 0.3, 0.32, { mirror: true }],
    ["to the right, low down", 0.72, 0.7, {}],
  ])("is round within half a pitch, %s, %j", async (_, turn, down, more) => {
    const { worstMm, burned, pitchAcrossMm } = await roundness(cone, place(turn, down), radiusMm, more);
    expect(burned).toBeGreaterThan(500);
    expect(worstMm).toBeLessThan(pitchAcrossMm / 2);
  });

  it("is not round laid along the circles instead", async () => {
    const { worstMm, pitchAcrossMm } = await roundness(cone, place(0.5, 0.5), radiusMm, {
      coneLayout: "level",
    });
    expect(worstMm).toBeGreaterThan(2 * pitchAcrossMm);
  });
});

describe("the dose of a cone's rows", () => {
  const grey = () =>
    sharp({ create: { width: 300, height: 200, channels: 3, background: "#999" } })
      .png()
      .toBuffer();
  const options: PrepareOptions = {
    aroundMm: { topMm: 30, bottomMm: 22 },
    heightMm: 20,
    linesPerInch: 508,
    method: "ostromoukhov",
    autoTone: false,
  };

  it("is the same on average, down the whole piece: burned share × turns under the beam", async () => {
    const { bitmap, report } = await prepare(await grey(), { ...options, bitmapOnly: true });
    const { columns, rows } = report.job;
    const bits = denseData(bitmap);
    const band = rows / 8;
    const doses = Array.from({ length: 8 }, (_, k) => {
      const burned = bits.subarray(k * band * columns, (k + 1) * band * columns);
      const share = burned.reduce((sum, bit) => sum + bit, 0) / burned.length;
      // A surface of diameter D passes D/26 as quickly as half-way down.
      return (share * 26) / (30 - 8 * ((k + 0.5) / 8));
    });
    expect(most(doses) / least(doses) - 1).toBeLessThan(0.01);
  });

  it("comes closer to what is wanted than with the same share burned in every row", async () => {
    const cone = await prepare(await grey(), options);
    const cylinder = await prepare(await grey(), { ...options, aroundMm: 26 });
    const { visualErrorRms = 9 } = cone.report.prediction ?? {};
    const uneven = cone.report.prediction?.uncompensatedVisualErrorRms ?? 0;
    expect(visualErrorRms).toBeLessThan(1);
    expect(visualErrorRms).toBeLessThan(uneven / 4);
    expect(cylinder.report.prediction?.visualErrorRms).toBeLessThan(visualErrorRms);
  });
});

describe("what the report says of a cone", () => {
  it("agrees with its geometry", async () => {
    const cone = { top: 80, bottom: 60, slant: 100 };
    const { report } = await roundness(cone, unroll(cone)(0.5, 0.5), 10);
    // sin θ = 10/100; r₁ = 30/0.1, r₂ = 40/0.1, φ = 360° · 0.1.
    const { around, columns, pitchAlongMm } = report.job;
    expect(around).toMatchObject({ topDiameterMm: 80, bottomDiameterMm: 60 });
    expect(around?.circumferenceMm).toBeCloseTo(70 * Math.PI, 9);
    expect(columns * pitchAlongMm).toBeCloseTo(70 * Math.PI, 9);
    const told = around?.cone;
    expect(told?.sectorInnerRadiusMm).toBeCloseTo(300, 6);
    expect(told?.sectorOuterRadiusMm).toBeCloseTo(400, 6);
    expect(told?.sectorAngleDeg).toBeCloseTo(36, 9);
    expect(told?.halfAngleDeg).toBeCloseTo((Math.asin(0.1) * 180) / Math.PI, 9);
    expect(told?.axialHeightMm).toBeCloseTo(Math.sqrt(9900), 9);
    // The outermost rows lie half a pitch of 0.2 mm within the ends: 0.02 mm of diameter.
    expect(told?.pitchAlongMm.least).toBeCloseTo((pitchAlongMm * 60.02) / 70, 9);
    expect(told?.pitchAlongMm.most).toBeCloseTo((pitchAlongMm * 79.98) / 70, 9);
    expect(told?.doseFactor.most).toBeCloseTo(70 / 60.02, 9);
    expect(told?.doseFactor.least).toBeCloseTo(70 / 79.98, 9);
    expect(told?.overdriveAlong.most).toBeCloseTo(0.2 / ((pitchAlongMm * 60.02) / 70), 9);
    expect(report.warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["cone-slope", "cone-dose"]),
    );
  });

  it("contain keeps the whole photo on the sheet, and bare surface beside it", async () => {
    const black = await sharp({ create: { width: 300, height: 200, channels: 3, background: "#000" } })
      .png()
      .toBuffer();
    const { bitmap, report } = await prepare(black, {
      ...PLAIN,
      aroundMm: { topMm: 80, bottomMm: 60 },
      heightMm: 90,
      fit: "contain",
    });
    const { columns, rows, pitchAlongMm, pitchAcrossMm } = report.job;
    const bits = denseData(bitmap);
    const place = unroll({ top: 80, bottom: 60, slant: 90 });
    // The burned places of the sheet fill a rectangle of 3 : 2, and nothing else.
    const burned: Point[] = [];
    let areaMm2 = 0;
    for (let i = 0; i < bits.length; i++) {
      if (!bits[i]) continue;
      const [x, y] = [i % columns, Math.floor(i / columns)];
      burned.push(place((x + 0.5) / columns, (y + 0.5) / rows));
      areaMm2 += (pitchAlongMm * (80 - (20 * (y + 0.5)) / rows) * pitchAcrossMm) / 70;
    }
    const [xs, ys] = [burned.map(([x]) => x), burned.map(([, y]) => y)];
    const width = most(xs) - least(xs);
    const height = most(ys) - least(ys);
    expect(width / height).toBeCloseTo(1.5, 1);
    expect(areaMm2 / (width * height)).toBeCloseTo(1, 1);
    expect(Math.abs(areaMm2 / (width * width * (2 / 3)) - 1)).toBeLessThan(0.02);
    // As large as will go: it meets both arcs.
    const touches = (y: number) => bits.subarray(y * columns, (y + 1) * columns).includes(1);
    expect(touches(0) || touches(1)).toBe(true);
    expect(touches(rows - 1) || touches(rows - 2)).toBe(true);
  });
});
