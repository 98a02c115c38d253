import { readFileSync } from "node:fs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { fates } from "../../../src/5-burn/lost-distinctions.js";
import type { PrepareOptions } from "../../../src/options/options.js";
import { makePiece } from "../../../src/pipeline/make-piece.js";
import { reportOf } from "../../support/prepare.js";
import { photographPath } from "../photograph.js";

const [columns, rows] = [600, 400];
const job: PrepareOptions = { widthMm: 60, linesPerInch: 254, method: "floyd-steinberg", kind: "photo" };

/** A grey picture as a PNG of 10 pixels a mm. */
const png = (greyAt: (x: number, y: number) => number): Promise<Buffer> =>
  sharp(
    Uint8Array.from({ length: columns * rows }, (_, i) => greyAt(i % columns, Math.floor(i / columns))),
    { raw: { width: columns, height: rows, channels: 1 } },
  )
    .png()
    .toBuffer();

/** Squares of 2 mm in two greys. */
const checks = (dark: number, light: number) => (x: number, y: number) =>
  (Math.floor(x / 20) + Math.floor(y / 20)) % 2 === 0 ? dark : light;

/** Greys of L* 77 and 91 on the left, 35 and 50 on the right. */
const halves = png((x, y) => (x < columns / 2 ? checks(190, 230) : checks(82, 118))(x, y));

async function fidelityOf(photo: Uint8Array, options: PrepareOptions = {}) {
  const report = await reportOf(photo, { ...job, ...options });
  const { fidelity } = report;
  if (!fidelity) throw new Error("No fidelity was measured.");
  return { ...fidelity, codes: report.warnings.map(({ code }) => code) };
}

describe("the fidelity of a piece", () => {
  it("loses nothing of plain tones, whatever the material's range", async () => {
    for (const material of ["maple", "slate", "cork"]) {
      const { distinctShare, lostShare, codes } = await fidelityOf(await halves, { material });
      expect(distinctShare).toBeGreaterThan(0.99);
      expect(lostShare).toBeLessThan(0.005);
      expect(codes).not.toContain("distinctions-lost");
    }
  });

  // L* 77 + 25 and 91 + 25 both lie beyond 100; 35 and 50 become 60 and 75.
  it("loses the half of a picture that a typed brightness clips", async () => {
    const { lostShare, lost, codes } = await fidelityOf(await halves, { autoTone: false, brightness: 25 });
    expect(Math.abs(lost.levels - 0.5)).toBeLessThan(0.03);
    expect(lostShare - lost.levels).toBeLessThan(0.005);
    expect(codes).toContain("distinctions-lost");
  });

  it("loses to solid fill and bare surface what a threshold merges", async () => {
    const { lost } = await fidelityOf(await halves, { method: "threshold" });
    expect(Math.abs(lost.bare - 0.5)).toBeLessThan(0.06);
    expect(Math.abs(lost.solid - 0.5)).toBeLessThan(0.06);
  });

  it("says where, as the piece is seen: mirrored or not, beside bare surface or not", async () => {
    const options = { ...job, autoTone: false, brightness: 25, heightMm: 80, fit: "contain" as const };
    for (const mirror of [false, true]) {
      const wishes = { files: {}, keepBitmap: true, wholeReport: true, aboutPhoto: true };
      const { judged } = await makePiece(await halves, { ...options, mirror }, wishes, {});
      const map = judged?.fidelity?.map;
      if (!map) throw new Error("No map was made.");
      const isLost = (x: number, y: number): boolean =>
        map.fate[y * map.columns + x] === fates.indexOf("levels");
      expect(map.topMm).toBeCloseTo(20, 1);
      expect(map.heightMm).toBeCloseTo(40, 1);
      expect([map.columns, map.rows]).toEqual([120, 80]);
      for (const y of [3, 40, 76]) expect([isLost(20, y), isLost(100, y)]).toEqual([true, false]);
    }
  });

  it("does not judge what an oval cuts off", async () => {
    const { distinctShare, lostShare } = await fidelityOf(await halves, { oval: true, vignetteMm: 3 });
    expect(distinctShare).toBeGreaterThan(0.99);
    // The oval and its fade take 40 % of the rectangle. A few windows reach from inside into the fade.
    expect(lostShare).toBeLessThan(0.01);
  });

  it("has no distinctions in a picture of one tone, and says so", async () => {
    for (const grey of [128, 250]) {
      const { distinctShare, lostShare, codes } = await fidelityOf(await png(() => grey));
      expect([distinctShare, lostShare]).toEqual([0, 0]);
      expect(codes).toContain("nothing-to-see");
    }
  });

  it("loses little of a real photograph at the defaults", async () => {
    const { distinctShare, lostShare } = await fidelityOf(readFileSync(photographPath("nagasaki-boats")));
    expect(distinctShare).toBeGreaterThan(0.7);
    expect(lostShare).toBeLessThan(0.03);
  });

  it("is the same on one thread and on two, and not measured for a bitmap alone", async () => {
    const [one, two] = await Promise.all(
      [1, 2].map(async (threads) => (await reportOf(await halves, job, { threads })).fidelity),
    );
    expect(two).toEqual(one);
    expect((await reportOf(await halves, { ...job, bitmapOnly: true })).fidelity).toBeUndefined();
  });
});
