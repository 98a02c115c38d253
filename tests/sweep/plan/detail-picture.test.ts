/*
 * The detail that a plan shows at each density: photos whose detail is at a place that was drawn there.
 */
import sharp from "sharp";
import { expect, it } from "vitest";
import type { DetailPicture, PlanOptions } from "../../../src/index.js";
import { plan } from "../../support/prepare.js";

/** A grey photo of 20 pixels per mm with a patch of 3 × 5 mm, its left half black and its right half white. */
async function photoWithPatch(leftMm: number, topMm: number, sideMm = 24): Promise<Buffer> {
  const half = (shade: string, at: number) => ({
    input: { create: { width: 30, height: 100, channels: 3 as const, background: shade } },
    left: 20 * leftMm + at,
    top: 20 * topMm,
  });
  return sharp({
    create: { width: 20 * sideMm, height: 20 * sideMm, channels: 3, background: "#808080" },
  })
    .composite([half("#000", 0), half("#fff", 30)])
    .png()
    .toBuffer();
}

const options: PlanOptions = {
  ...{ widthMm: 24, spotMm: 0.115, method: "floyd-steinberg", material: "maple", densities: [200, 331] },
  ...{ autoTone: false },
};

/** Trials are kept from one plan to the next. */
const curves = new Map();

async function picturesOf(photo: Buffer | undefined, more: PlanOptions = {}): Promise<DetailPicture[]> {
  const pictures: DetailPicture[] = [];
  await plan({ ...options, ...more }, photo, {
    curves,
    onPicture(row, picture) {
      pictures[row] = picture;
    },
  });
  return pictures;
}

/** Mean grey of the columns of a picture in four strips, from the left, near its middle row. */
async function stripsOf({ file }: DetailPicture): Promise<number[]> {
  const { width = 0, height = 0 } = await sharp(file).metadata();
  const { data } = await sharp(file)
    .extract({ left: 0, top: Math.round(0.35 * height), width, height: Math.round(0.3 * height) })
    .greyscale()
    .resize(4, 1, { fit: "fill", kernel: "cubic" })
    .raw()
    .toBuffer({ resolveWithObject: true });
  return [...data];
}

it.each([
  ["at the left", 4, 6, {}],
  ["on a piece of several times the size", 80, 30, { widthMm: 100 }],
  ["at the right", 17, 15, {}],
  ["of a mirrored piece, as its owner sees it", 4, 6, { mirror: true }],
] as [string, number, number, PlanOptions][])(
  "shows the same detail at each density: %s",
  async (_, leftMm, topMm, more) => {
    const pictures = await picturesOf(await photoWithPatch(leftMm, topMm, more.widthMm), more);
    expect(pictures).toHaveLength(2);
    for (const picture of pictures) {
      // A pixel of 200 lines per inch is 0.127 mm.
      expect(Math.abs(picture.widthMm - 5)).toBeLessThan(0.13);
      expect(Math.abs(picture.heightMm - 7)).toBeLessThan(0.13);
      // The patch lies in the middle: black left of it, white right, grey around.
      const [greyLeft, black, white, greyRight] = await stripsOf(picture);
      expect(black).toBeLessThan(Math.min(greyLeft, greyRight) - 20);
      expect(white).toBeGreaterThan(Math.max(greyLeft, greyRight) + 20);
    }
  },
);

it("shows all of a piece that is smaller than the detail", async () => {
  const [picture] = await picturesOf(await photoWithPatch(10, 10), { widthMm: 4 });
  expect(Math.abs(picture.widthMm - 4)).toBeLessThan(0.13);
  expect(Math.abs(picture.heightMm - 4)).toBeLessThan(0.13);
});

it("does not look outside an oval", async () => {
  // The patch is in a corner, which an oval leaves bare: there is nothing left to see but the grey.
  const [picture] = await picturesOf(await photoWithPatch(0, 0), { oval: true });
  const { channels } = await sharp(picture.file).stats();
  const strips = await stripsOf(picture);
  expect(channels[0].mean).toBeGreaterThan(60);
  expect(Math.max(...strips) - Math.min(...strips)).toBeLessThan(12);
});

it("makes pictures without a photo, and none of solid work", async () => {
  expect(await picturesOf(undefined, { widthMm: 8 })).toHaveLength(2);
  expect(await picturesOf(await photoWithPatch(4, 6), { kind: "strip", material: "coated-steel" })).toEqual(
    [],
  );
});

it("leaves the figures as they are", async () => {
  const photo = await photoWithPatch(4, 6);
  expect(await plan(options, photo, { curves, onPicture: () => {} })).toEqual(
    await plan(options, photo, { curves }),
  );
});
