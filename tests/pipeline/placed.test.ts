import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { ReportPlaced } from "../../src/6-report/report.js";
import { denseData } from "../../src/core/plane.js";
import type { PrepareOptions } from "../../src/index.js";
import { PLAIN } from "../support/plain-piece.js";
import { prepare } from "../support/prepare.js";
import { type Cone, type Point, unroll } from "../support/unroll.js";

/*
 * A picture on a part of a round piece. The checks follow a user: the piece is turned to the reported angle, the beam is moved to
 * the reported distance from the rim, and the bitmap is burned from there. What has burned is then looked at on the unrolled
 * surface (`unroll.ts`), where it must be the picture, undistorted, at the wanted place.
 */

const PHOTO = { width: 1200, height: 800 };

const svg = (body: string): Promise<Buffer> =>
  sharp(
    Buffer.from(
      `<svg xmlns="http://www.w3.org/2000/svg" width="${PHOTO.width}" height="${PHOTO.height}"><rect width="100%" height="100%" fill="#fff"/>${body}</svg>`,
    ),
  )
    .png()
    .toBuffer();
const black = svg(`<rect width="100%" height="100%"/>`);
const white = svg("");

interface Job {
  readonly cone: Cone;
  readonly fromRimMm: number;
  readonly angleDeg: number;
}

interface Burned {
  /** From the middle of the picture's top, along and down, on the unrolled surface. */
  readonly at: Point;
  readonly burns: boolean;
}

function placedOf(report: { job: { around?: { placed?: ReportPlaced } } }): ReportPlaced {
  const { placed } = report.job.around ?? {};
  if (!placed) throw new Error("not placed");
  return placed;
}

/** Every pixel of the bitmap where a user's machine would burn it. */
async function burnedOn({ cone, fromRimMm, angleDeg }: Job, photo: Buffer, more: PrepareOptions = {}) {
  const { bitmap, report } = await prepare(photo, {
    ...PLAIN,
    aroundMm: { topMm: cone.top, bottomMm: cone.bottom },
    wallMm: cone.slant,
    place: { fromRimMm, angleDeg },
    widthMm: 48,
    ...more,
  });
  const { columns, pitchAcrossMm, mirror } = report.job;
  const { startAngleDeg, turnDeg, fromRim } = placedOf(report);
  const place = unroll(cone);
  const topMm = place(0.5, fromRimMm / cone.slant)[1];
  const bits = denseData(bitmap);
  const pixels = Array.from(bits, (_, i): Burned => {
    const [x, y] = [i % columns, Math.floor(i / columns)];
    const angle = startAngleDeg + ((x + 0.5) / columns) * turnDeg;
    const fromMiddle = ((angle - angleDeg + 540) % 360) - 180;
    const down = ((fromRim?.bitmapMm ?? Number.NaN) + (y + 0.5) * pitchAcrossMm) / cone.slant;
    const [u, v] = place(0.5 + fromMiddle / 360, down);
    return { at: [mirror ? -u : u, v - topMm], burns: bits[i] === 1 };
  });
  return { pixels, report };
}

/** Worst distance by which a pixel on the wrong side lies beyond an edge. @param outside distance from it, negative inside */
const worstMm = (pixels: readonly Burned[], outside: (at: Point) => number): number =>
  pixels.reduce((worst, { at, burns }) => Math.max(worst, burns ? outside(at) : -outside(at)), 0);

/** Distance outside a rectangle whose upper side has its middle in the origin. */
const outsideRectangle =
  (width: number, height: number, top = 0) =>
  ([x, y]: Point): number =>
    Math.max(Math.abs(x) - width / 2, top - y, y - top - height);

const CONES: readonly Job[] = [
  { cone: { top: 85, bottom: 62, slant: 140 }, fromRimMm: 20, angleDeg: 90 },
  { cone: { top: 50, bottom: 80, slant: 90 }, fromRimMm: 31.5, angleDeg: 5 },
  { cone: { top: 120, bottom: 40, slant: 60 }, fromRimMm: 10, angleDeg: 300 },
];

describe.each(CONES)(
  "a picture on a cone of $cone.top to $cone.bottom mm, $fromRimMm mm down, at $angleDeg°",
  (job) => {
    it.each([
      ["", {}],
      ["mirrored", { mirror: true }],
      ["with finer columns", { linesPerInchAlong: 381 }],
      ["with finer lines", { linesPerInch: 254, linesPerInchAlong: 127 }],
    ])("burns as its rectangle within half a pixel, 48 × 32 mm %s", async (_, more) => {
      const { pixels, report } = await burnedOn(job, await black, more);
      const { pitchAlongMm, pitchAcrossMm } = report.job;
      const widest = report.job.around?.cone?.pitchAlongMm.most ?? pitchAlongMm;
      expect(worstMm(pixels, outsideRectangle(48, 32))).toBeLessThan(Math.hypot(widest, pitchAcrossMm) / 2);
      // No smaller bitmap holds it: it reaches all four sides within two pixels.
      const { columns, rows } = report.job;
      const burned = pixels.flatMap(({ burns }, i) =>
        burns ? [[i % columns, Math.floor(i / columns)]] : [],
      );
      const xs = burned.map(([x]) => x);
      const ys = burned.map(([, y]) => y);
      const least = (values: number[]) => values.reduce((a, b) => Math.min(a, b));
      const most = (values: number[]) => values.reduce((a, b) => Math.max(a, b));
      expect(Math.max(least(xs), least(ys))).toBeLessThanOrEqual(2);
      expect(Math.max(columns - 1 - most(xs), rows - 1 - most(ys))).toBeLessThanOrEqual(2);
    });

    it.each([
      ["in its upper left part", 300, 220],
      ["in its lower right part", 960, 600],
    ])("shows a disc as a disc within half a pixel, %s", async (_, cx, cy) => {
      const photo = await svg(`<circle cx="${cx}" cy="${cy}" r="150"/>`);
      const { pixels, report } = await burnedOn(job, photo);
      const mmPerPx = 48 / PHOTO.width;
      const centre: Point = [(cx - PHOTO.width / 2) * mmPerPx, cy * mmPerPx];
      const outside = ([x, y]: Point) => Math.hypot(x - centre[0], y - centre[1]) - 150 * mmPerPx;
      expect(pixels.filter(({ burns }) => burns).length).toBeGreaterThan(1000);
      expect(worstMm(pixels, outside)).toBeLessThan(report.job.pitchAcrossMm * Math.SQRT1_2);
    });

    it("keeps the whole photo in the middle of a box of another shape, and nothing beside it", async () => {
      const { pixels } = await burnedOn(job, await black, { heightMm: 40, fit: "contain" });
      expect(worstMm(pixels, outsideRectangle(48, 32, 4))).toBeLessThan(0.2);
    });

    it("leaves no dot beside it, where a filter rings", async () => {
      // On slate light burns, and a ripple of a hundredth of the light is a visible tone.
      const more: PrepareOptions = { material: "slate", method: "blue-noise", toneMap: "lightness" };
      const { pixels, report } = await burnedOn(job, await white, more);
      const { pitchAlongMm, pitchAcrossMm, around } = report.job;
      const reachMm = Math.hypot(around?.cone?.pitchAlongMm.most ?? pitchAlongMm, pitchAcrossMm) / 2;
      const outside = outsideRectangle(48, 32);
      expect(pixels.some(({ burns }) => burns)).toBe(true);
      expect(pixels.filter(({ at, burns }) => burns && outside(at) > reachMm)).toEqual([]);
    });

    it("cuts the photo to a box of another shape", async () => {
      const photo = await svg(`<rect width="400" height="800"/>`);
      const { pixels } = await burnedOn(job, photo, { widthMm: 30, heightMm: 30 });
      // The middle 800 of 1200 pixels are shown, of which the left 200 are black: 7.5 of 30 mm.
      expect(worstMm(pixels, ([x, y]) => outsideRectangle(7.5, 30)([x + 11.25, y]))).toBeLessThan(0.2);
    });

    it("has an oval and a border along the picture's own sides", async () => {
      const oval = await burnedOn(job, await black, { oval: true });
      const ellipse = ([x, y]: Point) => Math.hypot(x / 24, (y - 16) / 16) - 1;
      // Beyond the oval by no more than half a pixel: 0.14 mm of its shorter half-axis of 16 mm.
      expect(worstMm(oval.pixels, ellipse)).toBeLessThan(0.142 / 16);
      const { pixels, report } = await burnedOn(job, await white, { borderMm: 1 });
      const { uprightPx = 0, levelPx = 0 } = report.job.border ?? {};
      const { pitchAlongMm, pitchAcrossMm } = report.job;
      const inner = outsideRectangle(
        48 - 2 * uprightPx * pitchAlongMm,
        32 - 2 * levelPx * pitchAcrossMm,
        levelPx * pitchAcrossMm,
      );
      const outer = outsideRectangle(48, 32);
      expect(worstMm(pixels, (at) => Math.max(outer(at), -inner(at)))).toBeLessThan(1e-3);
    });
  },
);

describe("what a user sets on the machine", () => {
  it("on a cylinder of 73 mm, for 50 mm in width at 90°", async () => {
    const options = { ...PLAIN, linesPerInch: 254, widthMm: 50 };
    const round = await prepare(await black, {
      ...options,
      aroundMm: 73,
      place: { fromRimMm: 20, angleDeg: 90 },
    });
    // A quarter turn is 229.336 / 4 = 57.334 mm, half the picture 25 mm: it begins at 32.334 mm, or 50.756°.
    expect(placedOf(round.report)).toEqual({
      pictureWidthMm: expect.closeTo(50, 9),
      pictureHeightMm: expect.closeTo(33.3, 9),
      angleDeg: 90,
      startAngleDeg: expect.closeTo(50.756, 3),
      startAlongMm: expect.closeTo(32.334, 3),
      turnDeg: expect.closeTo(78.487, 3),
      fromRim: { pictureMm: 20, bitmapMm: 20 },
    });
    expect([round.report.job.columns, round.report.job.rows]).toEqual([500, 333]);
    expect(round.report.job.around?.seam).toBeUndefined();
    const flat = await prepare(await black, options);
    expect(denseData(round.bitmap)).toEqual(denseData(flat.bitmap));
  });

  it("without a place: the middle of the wall, and the middle of the picture on the mark", async () => {
    const { report } = await prepare(await black, { ...PLAIN, aroundMm: 73, widthMm: 48, wallMm: 100 });
    expect(placedOf(report)).toMatchObject({
      angleDeg: 0,
      startAngleDeg: expect.closeTo(360 - (24 / (73 * Math.PI)) * 360, 9),
      fromRim: { pictureMm: 34, bitmapMm: 34 },
    });
    const open = await prepare(await black, { ...PLAIN, aroundMm: 73, widthMm: 48 });
    expect(placedOf(open.report).fromRim).toBeUndefined();
  });

  it("counts an angle of -90° as 270°, and gives a place alone the usual size", async () => {
    const { report } = await prepare(await black, { ...PLAIN, aroundMm: 73, place: { angleDeg: -90 } });
    expect(placedOf(report)).toMatchObject({ angleDeg: 270, pictureWidthMm: expect.closeTo(100, 9) });
  });

  it("on a cone: circles by the distance from the rim", async () => {
    const job: Job = { cone: { top: 85, bottom: 62, slant: 140 }, fromRimMm: 20, angleDeg: 90 };
    const { report } = await burnedOn(job, await black);
    const { around, columns, rows, pitchAlongMm, pitchAcrossMm } = report.job;
    const { fromRim, turnDeg, wall, bend } = placedOf(report);
    // The apex is 42.5 · 140 / 11.5 = 517.391 mm from the rim, so the picture's sides are at 497.391 and 465.391 mm, and its
    // upper corners at √(497.391² + 24²) = 497.970 mm: 19.421 mm below the rim. 163 lines of 0.2 mm hold the difference.
    expect(rows).toBe(163);
    expect(fromRim?.pictureMm).toBe(20);
    expect(fromRim?.bitmapMm).toBeCloseTo(517.391 - (465.391 + 32.6), 3);
    const diameter = (downMm: number) => 85 - (23 * downMm) / 140;
    expect(around?.topDiameterMm).toBeCloseTo(diameter(19.4), 3);
    expect(around?.bottomDiameterMm).toBeCloseTo(diameter(52), 3);
    const middleMm = Math.PI * diameter(19.4 + 16.3);
    expect(turnDeg).toBeCloseTo((360 * columns * pitchAlongMm) / middleMm, 3);
    expect(pitchAcrossMm).toBeCloseTo(0.2, 9);
    expect(pitchAlongMm).toBeCloseTo(0.2, 9);
    expect(wall).toEqual({ lengthMm: 140, rimDiameterMm: 85, footDiameterMm: 62 });
    // At half height r = 481.391: an arc over 48 mm is 24² / 2r = 0.598 mm high, and 32 mm of height narrow it by 48 · 32 / r.
    expect(bend?.bowMm).toBeCloseTo(0.598, 2);
    expect(bend?.taperMm).toBeCloseTo(3.191, 3);
  });

  it("lays rows along the circles, with the same dose in each", async () => {
    const grey = sharp({ create: { width: 300, height: 300, channels: 3, background: "#999" } }).png();
    const { bitmap, report } = await prepare(await grey.toBuffer(), {
      ...{ linesPerInch: 508, method: "ostromoukhov", autoTone: false, bitmapOnly: true },
      ...{ aroundMm: { topMm: 40, bottomMm: 24 }, wallMm: 40, coneLayout: "level" },
      ...{ widthMm: 20, place: { fromRimMm: 10, angleDeg: 120 } },
    });
    const { columns, rows, around } = report.job;
    expect([columns, rows]).toEqual([400, 400]);
    // 10 and 30 of 40 mm down from 40 to 24 mm.
    expect([around?.topDiameterMm, around?.bottomDiameterMm]).toEqual([36, 28]);
    expect(placedOf(report).turnDeg).toBeCloseTo((360 * 20) / (32 * Math.PI), 9);
    const bits = denseData(bitmap);
    const doses = Array.from({ length: 8 }, (_, k) => {
      const share = bits
        .subarray(k * 50 * columns, (k + 1) * 50 * columns)
        .reduce((sum, bit) => sum + bit, 0);
      return share / (36 - (8 * (k + 0.5)) / 8);
    });
    expect(Math.max(...doses) / Math.min(...doses) - 1).toBeLessThan(0.01);
  });

  it("takes diameters of the picture where the wall is not known", async () => {
    const { report } = await prepare(await black, {
      ...PLAIN,
      ...{ aroundMm: { topMm: 85, bottomMm: 80 }, widthMm: 48, coneLayout: "level" },
    });
    expect(report.job.around).toMatchObject({ topDiameterMm: 85, bottomDiameterMm: 80 });
    expect(placedOf(report).wall).toBeUndefined();
    expect(placedOf(report).fromRim).toBeUndefined();
  });
});

it("the page shows the unrolled part of a cone at its size, and the picture as the rectangle that it is", async () => {
  const { reportPage = new Uint8Array() } = await prepare(await black, {
    ...{ ...PLAIN, bitmapOnly: false, widthMm: 48, wallMm: 60 },
    ...{ aroundMm: { topMm: 120, bottomMm: 40 }, place: { fromRimMm: 10, angleDeg: 300 } },
  });
  const page = Buffer.from(reportPage).toString();
  const [, width, height, base64] =
    /id="picture-unrolled"><image width="([\d.]+)" height="([\d.]+)".*?base64,([^"]+)"/.exec(page) ?? [];
  // The apex is 90 mm from the rim; the sides lie 80 and 48 mm from it, the upper corners √(80² + 24²) = 83.52 mm. 178 lines of
  // 0.2 mm reach to 83.6 mm, and rays through the lower corners to tan⁻¹(24/48) = 26.57° on both sides.
  expect(Number(width)).toBeCloseTo(2 * 83.6 * Math.sin(Math.atan(0.5)), 0);
  expect(Number(height)).toBeCloseTo(83.6 - 48 * Math.cos(Math.atan(0.5)), 0);
  const { data, info } = await sharp(Buffer.from(base64, "base64"))
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  expect(info.width / info.height).toBeCloseTo(Number(width) / Number(height), 1);
  // Dark from 3.6 mm to 35.6 mm below the top, as wide as 48 mm.
  const pxPerMm = info.width / Number(width);
  const darkAt = (xMm: number, yMm: number): boolean => {
    const [x, y] = [info.width / 2 + xMm * pxPerMm, yMm * pxPerMm].map(Math.floor);
    return data[y * info.width + x] < 150;
  };
  for (const [xMm, yMm] of [
    [0, 3.6],
    [-23, 4.6],
    [23, 4.6],
    [-23, 34.6],
    [23, 34.6],
    [0, 34.6],
  ]) {
    expect([xMm, yMm, darkAt(xMm, yMm + 0.6)]).toEqual([xMm, yMm, true]);
  }
  for (const [xMm, yMm] of [
    [0, 2.6],
    [-25, 20],
    [25, 20],
    [0, 36.6],
  ]) {
    expect([xMm, yMm, darkAt(xMm, yMm)]).toEqual([xMm, yMm, false]);
  }
});

describe("a picture that does not fit its piece is refused with figures", () => {
  const tumbler: PrepareOptions = { aroundMm: { topMm: 85, bottomMm: 62 }, wallMm: 140, widthMm: 48 };
  it.each<[string, PrepareOptions, RegExp]>([
    [
      "below the foot of a cylinder",
      { aroundMm: 73, wallMm: 50, widthMm: 48, place: { fromRimMm: 20 } },
      /from 20 to 52 mm below the rim, but the wall of the piece ends at 50 mm/,
    ],
    [
      "below the foot of a cone",
      { ...tumbler, place: { fromRimMm: 109 } },
      /from 109 to 141 mm below the rim.*ends at 140 mm/,
    ],
    [
      "corners above the rim",
      { ...tumbler, place: { fromRimMm: 0 } },
      /from -0\.\d+ to 32 mm below the rim.*begins at 0 mm/,
    ],
    ["higher than the wall", { aroundMm: 73, wallMm: 30, widthMm: 48 }, /from -1 to 31 mm/],
    [
      "wider than round a cylinder",
      { aroundMm: 15, widthMm: 48 },
      /48 mm wide, but.*only 47\.12 mm all the way round/,
    ],
    [
      "wider than round a cone",
      { ...tumbler, widthMm: 190, heightMm: 10, aroundMm: { topMm: 62, bottomMm: 58 } },
      /190 mm wide, but/,
    ],
    [
      "a wall shorter than its slope",
      { ...tumbler, wallMm: 11 },
      /wall of 11 mm is no cone.*exceed the 11\.5 mm/,
    ],
    [
      "a rim without a wall",
      { aroundMm: { topMm: 85, bottomMm: 62 }, place: { fromRimMm: 20 } },
      /place measures from the rim of a cone.*Give wallMm/,
    ],
    ["a wall all the way round", { aroundMm: 73, wallMm: 50 }, /wallMm is for a picture on a part/],
    ["a place on flat work", { place: { angleDeg: 20 } }, /place is for a round piece/],
    ["a wall on flat work", { wallMm: 20 }, /wallMm is for a round piece/],
    [
      "a place that is none",
      { aroundMm: 73, place: { angleDeg: 400 } },
      /place takes 0 to 3000 mm from the rim and an angle of -360 to 360 degrees/,
    ],
  ])("%s", async (_, options, words) => {
    await expect(prepare(await black, { ...PLAIN, ...options })).rejects.toThrow(words);
  });
});
