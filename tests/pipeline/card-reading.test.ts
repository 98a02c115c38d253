import sharp, { type Sharp } from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { srgbFromLinear } from "../../src/core/physics/transfer.js";
import { type MadeTestCard, SpotpitchError, testCard } from "../../src/index.js";
import { type CardReading, readCard } from "../../src/pipeline/calibration/card-reading.js";

const options = { linesPerInch: 508, spotMm: 0.15, sizeMm: { widthMm: 50, heightMm: 38 } };
/** Luminance factors of what is bare and what is burned. */
const [BARE, SOLID] = [0.6, 0.1];
const [WIDTH, HEIGHT, BORDER] = [800, 560, 40];

/** A scan of a bitmap as if every pixel of it had marked its own square: light is averaged, then written as sRGB. */
async function scanned(burnFile: Uint8Array, light = (factor: number, _x: number, _y: number) => factor) {
  const { data, info } = await sharp(burnFile)
    .greyscale()
    .extend({ top: BORDER, bottom: BORDER, left: BORDER, right: BORDER, background: "#fff" })
    .resize({ width: WIDTH })
    .blur(0.8)
    .raw()
    .toBuffer({ resolveWithObject: true });
  const { width, height } = info;
  const codes = Uint8Array.from({ length: width * height }, (_, i) => {
    const factor = SOLID + ((BARE - SOLID) * data[i * info.channels]) / 255;
    const seen = light(factor, (i % width) / width, Math.floor(i / width) / height);
    return Math.round(255 * srgbFromLinear(Math.min(1, seen)));
  });
  return sharp(codes, { raw: { width, height, channels: 1 } })
    .png()
    .toBuffer();
}

const over = (picture: Buffer, shapes: string): Sharp =>
  sharp(picture).composite([
    {
      input: Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 100 80">${shapes}</svg>`,
      ),
      ...{ left: 0, top: 0 },
    },
  ]);

/** The bitmap of a card with the code of another one of the same size. */
async function withCodeOf(card: MadeTestCard, other: MadeTestCard): Promise<Buffer> {
  const { codePlace, pitchAlongMm, pitchAcrossMm } = card.recipe;
  const [left, top] = [codePlace.leftMm / pitchAlongMm, codePlace.topMm / pitchAcrossMm].map(Math.round);
  const [width, height] = [codePlace.widthMm / pitchAlongMm, codePlace.heightMm / pitchAcrossMm].map(
    Math.round,
  );
  const input = await sharp(other.burnFile).extract({ left, top, width, height }).png().toBuffer();
  return sharp(card.burnFile).composite([{ input, left, top }]).png().toBuffer();
}

describe("a picture of a card that something is wrong with", () => {
  let card: MadeTestCard;
  let good: Buffer;
  let reading: CardReading;
  beforeAll(async () => {
    card = await testCard(options);
    good = await scanned(card.burnFile);
    reading = await readCard(good, "scan.png");
  });

  /** Of the patches that are used, from the good picture: the largest difference of ln luminance. */
  const largestChange = ({ overBare, usable }: CardReading): number =>
    Math.max(
      ...Array.from(overBare, (each, k) => usable[k] * Math.abs(Math.log(each / reading.overBare[k]))),
    );
  /** The same of light that is added, as a share of what a bare surface sends back. */
  const mostAddedLight = ({ overBare, usable }: CardReading): number =>
    Math.max(...Array.from(overBare, (each, k) => usable[k] * Math.abs(each - reading.overBare[k])));
  const leftOut = ({ usable }: CardReading): string[] =>
    reading.recipe.patches.filter((_, k) => !usable[k]).map(({ id }) => id);

  it("is the card of a good one", () => {
    expect(leftOut(reading)).toEqual([]);
    expect(reading.solidOverBare).toBeCloseTo(SOLID / BARE, 2);
    const fractions = reading.recipe.patches.map(
      ({ pattern }) => reading.recipe.patterns[pattern].burnFraction,
    );
    // Each pixel marks its own square, so a patch is a mixture (Murray 1936).
    const off = fractions.map((fraction, k) => reading.overBare[k] - (1 - fraction * (1 - SOLID / BARE)));
    // A part of a period would be off by 0.05 and more.
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(0.045);
    expect(Math.abs(off.reduce((sum, each) => sum + each, 0) / off.length)).toBeLessThan(0.005);
  });

  it("leaves out the patches under a finger, and reads the others as before", async () => {
    const picture = over(good, '<path d="M100 45H78a6 6 0 0 0 0 12H100z" fill="#b98a72"/>');
    const read = await readCard(await picture.png().toBuffer(), "finger.png");
    expect(leftOut(read).length).toBeGreaterThan(8);
    expect(leftOut(read).length).toBeLessThan(40);
    expect(largestChange(read)).toBeLessThan(0.03);
  });

  it("leaves out the patches in a small glare, and reads the others as before", async () => {
    const glare = await scanned(
      card.burnFile,
      (factor, x, y) => factor + 0.3 * Math.exp(-((x - 0.3) ** 2 + (y - 0.4) ** 2) / (2 * 0.04 ** 2)),
    );
    const read = await readCard(glare, "glare.png");
    expect(leftOut(read).length).toBeGreaterThan(4);
    // Gaps that are up to e^0.06 too bright pass for bare ones, and a glare adds as much light to the patch beside.
    expect(mostAddedLight(read)).toBeLessThan(Math.expm1(0.06));
  });

  const shaded = (share: number, isIn: (x: number, y: number) => boolean) =>
    scanned(card.burnFile, (factor, x, y) => (isIn(x, y) ? factor * (1 - share) : factor));
  /** Dark surroundings are lifted: light is divided by a power of the mean light round it. */
  const evened = async () => {
    const round = await sharp(good).blur(40).greyscale().raw().toBuffer();
    const { data, info } = await sharp(good).greyscale().raw().toBuffer({ resolveWithObject: true });
    const codes = data.map((code, i) => Math.min(255, Math.round(code * (160 / round[i]) ** 0.5)));
    return sharp(codes, { raw: { width: info.width, height: info.height, channels: 1 } });
  };
  it.each<[string, string, () => Promise<Buffer | Sharp>]>([
    ["in a shadow over a quarter", "card-uneven-light", () => shaded(0.3, (x) => x < 0.3)],
    ["in a shadow in a corner", "card-uneven-light", () => shaded(0.45, (x, y) => x + y < 0.75)],
    ["blurred", "card-blurred", async () => sharp(good).blur(4.5)],
    [
      "sharpened",
      "card-sharpened",
      async () => sharp(good).sharpen({ sigma: 1.5, m1: 1.2, m2: 1.2, x1: 0, y2: 100, y3: 100 }),
    ],
    ["evened out by the camera", "card-tones-by-place", evened],
    [
      "beside another",
      "card-two-codes",
      async () =>
        sharp(good)
          .extend({ right: WIDTH, background: "#ccc" })
          .composite([{ input: good, left: WIDTH, top: 0 }]),
    ],
    [
      "with the code of another",
      "card-patches-unlike",
      async () => scanned(await withCodeOf(card, await testCard({ ...options, seed: 2 }))),
    ],
    ["that is only its preview", "card-not-engraved", async () => sharp(card.previewFile)],
    [
      "that is only its bitmap",
      "card-clipped",
      async () =>
        sharp(card.burnFile)
          .resize({ width: WIDTH })
          .extend({ ...{ top: 40, bottom: 40, left: 40, right: 40 }, background: "#fff" }),
    ],
  ])("is refused %s", async (_, id, picture) => {
    const made = await picture();
    const bytes = Buffer.isBuffer(made) ? made : await made.png().toBuffer();
    const error = await readCard(bytes, "card.png").catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(SpotpitchError);
    expect(error instanceof SpotpitchError && error.refusal?.id).toBe(id);
  });
});
