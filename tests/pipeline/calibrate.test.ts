import sharp, { type Sharp } from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { type CardView, inPicture } from "../../src/7-card-picture/card-view.js";
import { measurePatches } from "../../src/7-card-picture/measure.js";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../../src/core/material/response.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { linearFromSrgb, srgbFromLinear } from "../../src/core/physics/transfer.js";
import { type Calibrated, calibrate, type MadeTestCard, SpotpitchError, testCard } from "../../src/index.js";
import { type CardReading, readCard } from "../../src/pipeline/calibration/card-reading.js";
import { straightened } from "../../src/pipeline/calibration/straightened.js";
import { chartMeans, hasChartReader, lightOf } from "../support/chart-reader.js";
import { prepare } from "../support/prepare.js";
import { hasReference } from "../support/reference.js";
import { photographed, type VirtualEngraving, type VirtualPicture } from "../support/virtual-camera.js";
import { cornersOf, hasVision, seenByVision } from "../support/vision.js";
import { middleOf } from "./photograph.js";
import { simulate } from "./simulate.js";
import { viewLuminanceOf } from "./view-luminance.js";

/** Made up: a middling wood. */
const middling: ResponsePoints = [
  [0, 0.6],
  [0.25, 0.55],
  [0.5, 0.3],
  [0.75, 0.15],
  [1, 0.1],
];
const wood: VirtualEngraving = {
  ...{ response: middling, spotAlongMm: 0.11, spotAcrossMm: 0.14, speedMmPerS: 300 },
  spread: { local: 0.04, localLengthMm: 2, line: 0.03 },
};
/** Four lines to the spot, as a card has by default. */
const sizeMm = { widthMm: 60, heightMm: 45 };
const camera = {
  ...{ columns: 2000, rows: 1500, tiltDeg: 20, tiltTowardsDeg: 130, rollDeg: 175, radial: -0.02 },
  ...{ gradient: 1.7, vignetting: true, blurPx: 1, noise: 0.01, jpeg: 80, grain: 0.01 },
};

/** Difference in L*, rms over doses up to 1. */
function responseError(found: ResponsePoints, truth: ResponsePoints): number {
  const [a, b] = [found, truth].map(createResponse);
  const doses = Array.from({ length: 41 }, (_, k) => k / 40);
  const squares = doses.map(
    (dose) =>
      (lightnessFromLuminance(luminanceFactorAt(a, dose)) -
        lightnessFromLuminance(luminanceFactorAt(b, dose))) **
      2,
  );
  return Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length);
}

describe.skipIf(!hasReference())(
  "a card, engraved and photographed by code that shares nothing with ours",
  () => {
    let card: MadeTestCard;
    let picture: VirtualPicture;
    let learnt: Calibrated;
    let reading: CardReading;
    beforeAll(async () => {
      card = await testCard({ linesPerInch: 762, spotMm: 0.13, speedMmPerS: 300, sizeMm });
      [picture] = photographed(card, wood, [camera]);
      learnt = await calibrate([{ bytes: picture.bytes, fileName: "card.jpg" }], {
        material: "maple",
        bareLuminance: 0.6,
        speedMmPerS: 300,
      });
      reading = await readCard(picture.bytes, "card.jpg");
    });

    it("is found to a pixel, upside down and in perspective", () => {
      const { view, recipe } = reading;
      cornersOf(recipe).forEach((corner, k) => {
        const [x, y] = inPicture(view, corner);
        expect(Math.hypot(x - picture.places[k][0], y - picture.places[k][1])).toBeLessThan(1);
      });
    });

    it("tells response and spot within their bands", () => {
      const { calibration, material, machine } = learnt;
      expect(responseError(material.response, middling)).toBeLessThan(2);
      const { spotAlongMm, spotAcrossMm, firingLossUs, lineExponent } = calibration;
      for (const [figure, truth, most] of [
        [spotAlongMm, 0.11, 0.011],
        [spotAcrossMm, 0.14, 0.014],
        [firingLossUs, 0, 8],
        [lineExponent, 1, 0.12],
      ] as const) {
        expect(figure.low).toBeLessThanOrEqual(figure.value);
        expect(figure.high).toBeGreaterThanOrEqual(figure.value);
        expect(Math.abs(figure.value - truth)).toBeLessThan(most);
      }
      expect(machine.spotMm).toEqual({
        alongMm: expect.closeTo(spotAlongMm.value, 4),
        acrossMm: expect.closeTo(spotAcrossMm.value, 4),
      });
      expect(calibration.patches.filter(({ spoilt }) => spoilt).length).toBeLessThan(20);
    });

    it("tells how the dose varies within a piece, and leaves out what one card cannot tell", () => {
      const { spread, cards } = learnt.calibration;
      expect(Math.abs(spread.local.value / 0.04 - 1)).toBeLessThan(1 / 3);
      expect(Math.abs(spread.line.value / 0.03 - 1)).toBeLessThan(1 / 3);
      // Blotches of 2 mm are shorter than the distance of patches: their length is told within a factor of two.
      expect(spread.localLengthMm.value).toBeGreaterThan(1);
      expect(spread.localLengthMm.value).toBeLessThan(4);
      expect([spread.common.learnt, spread.spot.learnt]).toEqual([false, false]);
      expect(learnt.machine.spread).toEqual({
        local: expect.closeTo(spread.local.value, 3),
        line: expect.closeTo(spread.line.value, 3),
        ...(spread.localLengthMm.learnt && {
          localLengthMm: expect.closeTo(spread.localLengthMm.value, 3),
        }),
      });
      expect(cards).toEqual([
        { code: card.recipe.code, files: ["card.jpg"], doseFactor: 1, isDoseKnown: true },
      ]);
    });

    it("gives files that the next job takes", async () => {
      const photo = await sharp({ create: { width: 90, height: 60, channels: 3, background: "#777" } })
        .png()
        .toBuffer();
      const { name: _, source: __, ...figures } = learnt.machine;
      const { report } = await prepare(photo, {
        ...figures,
        material: learnt.material,
        widthMm: 6,
        method: "bayer-8",
      });
      expect(report.job.material).toBe("mine");
      expect(report.job.spotAcrossMm).toBe(
        learnt.calibration.spotAcrossMm.learnt ? figures.spotMm && Object(figures.spotMm).acrossMm : 0.1,
      );
      expect(report.warnings.map(({ code }) => code)).not.toContain("material-illustrative");
      // The card's solid patches have 762 lines per inch; a job with fewer needs as much more power.
      expect(report.power.factor).toBeCloseTo(762 / report.job.linesPerInch, 2);
    });

    it("lets a photo come out on the true machine nearly as well as with the true figures", async () => {
      const photo = await middleOf("nagasaki-boats", 160);
      const job = {
        linesPerInch: 339,
        widthMm: (160 * 25.4) / 339,
        method: "floyd-steinberg",
        autoTone: false,
      };
      const truth = {
        material: { ...learnt.material, response: middling },
        spotMm: { alongMm: wood.spotAlongMm, acrossMm: wood.spotAcrossMm },
      };
      const { name: _, source: __, ...machine } = learnt.machine;
      const errors: number[] = [];
      for (const way of [truth, { ...machine, material: learnt.material }]) {
        const { burnFile, report } = await prepare(photo, { ...job, ...way });
        const { visualErrorRms } = await simulate({
          ...{ burnFile, photo, pitchMm: 25.4 / 339, spotMm: wood.spotAlongMm, response: middling },
          ...{ viewLuminanceCdM2: viewLuminanceOf(report), doseSpread: 0 },
          machine: { spotAcrossMm: wood.spotAcrossMm },
        });
        errors.push(visualErrorRms);
      }
      expect(errors[1]).toBeLessThan(1.5 * errors[0]);
    });

    it("is read from behind, and light on dark", async () => {
      const flopped = await readCard(await sharp(picture.bytes).flop().jpeg().toBuffer(), "behind.jpg");
      const [x, y] = inPicture(flopped.view, [0, 0]);
      expect(Math.hypot(x - (2000 - picture.places[0][0]), y - picture.places[0][1])).toBeLessThan(1);
      // The reciprocal of the light: what was dark is light, in the same uneven light.
      const { data, info } = await sharp(picture.bytes)
        .greyscale()
        .raw()
        .toBuffer({ resolveWithObject: true });
      const codes = data.map((code) => 255 * srgbFromLinear(0.02 / linearFromSrgb(Math.max(40, code) / 255)));
      const { width, height, channels } = info;
      const light = await sharp(codes, { raw: { width, height, channels } }).png().toBuffer();
      const negative = await readCard(light, "light on dark.png");
      expect(flopped.solidOverBare).toBeCloseTo(0.1 / 0.6, 1.5);
      expect(negative.solidOverBare).toBeGreaterThan(4);
    });

    it.skipIf(!hasVision)("lies where a vision library finds it by its code and its solid patches", () => {
      const { view, recipe } = reading;
      const found = seenByVision(picture.bytes, recipe);
      cornersOf(recipe).forEach((corner, k) => {
        const [x, y] = inPicture(view, corner);
        expect(Math.hypot(x - found[k][0], y - found[k][1])).toBeLessThan(1);
      });
    });

    it.skipIf(!hasChartReader)("has the means of patches that a reader of colour charts finds", async () => {
      const { recipe } = reading;
      const straight = await lightOf(await straightened(reading));
      const means = await chartMeans(straight, recipe);
      const [x, y] = [straight.columns / recipe.widthMm, straight.rows / recipe.heightMm];
      const view: CardView = {
        homography: [x, 0, 0, 0, y, 0, 0, 0, 1],
        ...{ radial: 0, middle: [0, 0], halfDiagonalPx: 1 },
      };
      const areas = recipe.patches.map((patch) => ({ ...patch, periodAlongMm: 0.01, periodAcrossMm: 0.01 }));
      const off = measurePatches(straight, view, areas, 0).map(({ light }, k) =>
        Math.log(light / (means.get(recipe.patches[k].id) ?? Number.NaN)),
      );
      // Both average pixels; which of those at the rim of a patch count is another matter.
      expect(Math.sqrt(off.reduce((sum, each) => sum + each * each, 0) / off.length)).toBeLessThan(0.015);
      expect(Math.abs(off.reduce((sum, each) => sum + each, 0) / off.length)).toBeLessThan(0.003);
    });

    describe("is refused, with the check that failed and what to do", () => {
      const refusalOf = async (bytes: Uint8Array, options = {}, recipe?: { code: string }) => {
        const error = await calibrate([{ bytes, fileName: "card.jpg" }], options, { recipe }).then(
          () => undefined,
          (thrown: unknown) => thrown,
        );
        if (!(error instanceof SpotpitchError)) throw new Error(`not refused: ${error}`);
        return { id: error.refusal?.id, message: error.message };
      };
      const edited = () => sharp(picture.bytes);
      const shadow = (dark: number) =>
        Buffer.from(
          `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500"><path d="M0 0L820 0L760 1500L0 1500z" fill="#000" fill-opacity="${dark}"/></svg>`,
        );
      it.each<[string, string, () => Sharp]>([
        [
          "blank",
          "card-code-missing",
          () => sharp({ create: { width: 900, height: 700, channels: 3, background: "#ccc" } }),
        ],
        ["blurred beyond reading", "card-code-missing", () => edited().blur(25)],
        [
          "cropped",
          "card-frame-missing",
          () => edited().extract({ left: 450, top: 300, width: 1100, height: 800 }),
        ],
        ["far away", "card-too-few-pixels", () => edited().resize(560)],
        ["overexposed", "card-clipped", () => edited().linear(2.2, 0)],
        ["half in a shadow", "card-uneven-light", () => edited().composite([{ input: shadow(0.45) }])],
      ])("%s", async (_, id, change) => {
        const refused = await refusalOf(await change().jpeg().toBuffer());
        expect(refused.id).toBe(id);
        expect(refused.message).toContain("card.jpg");
      });

      it("another card than the recipe, or a material that marks the other way", async () => {
        const other = await testCard({ linesPerInch: 762, spotMm: 0.13, seed: 2, sizeMm });
        expect((await refusalOf(picture.bytes, {}, other.recipe)).id).toBe("card-not-the-recipe");
        expect((await refusalOf(picture.bytes, { material: "slate" })).id).toBe("card-other-material");
      });
    });
  },
);
