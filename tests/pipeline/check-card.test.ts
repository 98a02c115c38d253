import { PNG } from "pngjs";
import { beforeAll, describe, expect, it } from "vitest";
import { escapeHtml } from "../../src/6-report/pages/html-page.js";
import { toneCheckPage } from "../../src/6-report/pages/tone-check-page.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import {
  type CheckCardOptions,
  checkCard,
  checkCardPage,
  checkTones,
  type MadeCheckCard,
} from "../../src/index.js";
import { hasReference } from "../support/reference.js";
import { shots, type VirtualPicture } from "../support/virtual-camera.js";

/** Made up: a middling wood that was measured beyond dose 1. */
const middling: ResponsePoints = [
  [0, 0.6],
  [0.25, 0.55],
  [0.5, 0.3],
  [0.75, 0.15],
  [1, 0.1],
  [1.6, 0.08],
];
const material = {
  ...{ name: "wood", response: middling, bareColor: "#e3c9a0", markedColor: "#3a2415" },
  ...{ source: "measured with a test card", hazards: ["Smoke."], referencePitchMm: 0.025 },
};
const spotMm = { alongMm: 0.11, acrossMm: 0.14 };
const options: CheckCardOptions = {
  ...{ material, spotMm, linesPerInch: 200, speedMmPerS: 300, method: "bayer-8" },
  sizeMm: { widthMm: 50, heightMm: 40 },
};

let made: MadeCheckCard;
beforeAll(async () => {
  made = await checkCard(options);
});

describe("a check card", () => {
  it("is bare outside its patches, photo, frame, corners and code, by another PNG reader", () => {
    const { recipe, burnFile } = made;
    const { width, height, data } = PNG.sync.read(Buffer.from(burnFile));
    expect([width, height]).toEqual([recipe.columns, recipe.rows]);
    const free = new Uint8Array(width * height).fill(1);
    const mark = (area: { leftMm: number; topMm: number; widthMm: number; heightMm: number }) => {
      const px = (mm: number, pitch: number): number => Math.round(mm / pitch);
      const [left, right] = [area.leftMm, area.leftMm + area.widthMm].map((mm) =>
        px(mm, recipe.pitchAlongMm),
      );
      const [top, lower] = [area.topMm, area.topMm + area.heightMm].map((mm) => px(mm, recipe.pitchAcrossMm));
      for (let y = top; y < lower; y++) free.fill(0, y * width + left, y * width + right);
    };
    for (const area of [...recipe.patches, recipe.photo, recipe.codePlace]) mark(area);
    for (const { place } of recipe.corners) mark(place);
    const [along, across] = [recipe.pitchAlongMm, recipe.pitchAcrossMm].map((pitch) =>
      Math.round(recipe.frameMm / pitch),
    );
    let wrong = 0;
    for (let y = across; y < height - across; y++) {
      for (let x = along; x < width - along; x++) {
        const i = y * width + x;
        if (free[i] === 1 && data[4 * i] !== 255) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it("asks for even steps of L*, and predicts what it asks for", () => {
    const { tones } = made.card;
    const [bare, solid] = [lightnessFromLuminance(0.6), lightnessFromLuminance(tones[13].wanted)];
    for (const [k, { wanted, predicted }] of tones.slice(0, 13).entries()) {
      expect(lightnessFromLuminance(wanted)).toBeCloseTo(bare + ((k + 1) * (solid - bare)) / 14, 1);
      // A tone of 8 × 8 thresholds in a patch of 30 × 30 pixels is not exactly the one that was asked for.
      expect(Math.abs(lightnessFromLuminance(predicted) - lightnessFromLuminance(wanted))).toBeLessThan(1.5);
    }
  });

  it("has a page that loads nothing, with every step and note", () => {
    const page = checkCardPage(made.card, made.previewFile, "npx spotpitch calibrate --check it.jpg");
    expect(page).not.toMatch(/<script|<link|<iframe|\son\w+=|url\((?!#)|@import|https?:/i);
    const plain = page.replaceAll("\u00a0", " ");
    for (const words of [...made.card.steps, ...made.card.notes]) expect(plain).toContain(escapeHtml(words));
    expect(page.match(/<td class="words">tone \d+<\/td>/g)).toHaveLength(13);
  });

  it("tells the power of a job: 5.08 times that of a fill with 5.08 times the lines", () => {
    expect(made.card.steps.join(" ")).toContain("5.08 × the power that you used at 1016 lines per inch");
    expect(made.card.job.isMeasured).toBe(true);
    expect(made.card.notes.join(" ")).not.toContain("Nobody measured");
  });

  it("has another code for other tones, and the same bytes for the same", async () => {
    const again = await checkCard(options);
    expect(Buffer.compare(again.burnFile, made.burnFile)).toBe(0);
    expect(again.recipeFile).toBe(made.recipeFile);
    const other = await checkCard({ ...options, spotMm: 0.12 });
    expect(other.recipe.code).not.toBe(made.recipe.code);
    expect(other.recipe.code).toMatch(/^SPOTPITCH1 W50 H40 D200 L2 S\d{4} C$/);
  });
});

describe.skipIf(!hasReference())(
  "a check card, engraved and photographed by code that shares nothing with ours",
  () => {
    const machine = {
      ...{ response: middling, spotAlongMm: 0.11, spotAcrossMm: 0.14, speedMmPerS: 300 },
      spread: { local: 0.03, localLengthMm: 2, line: 0.03 },
    };
    const camera = {
      ...{ columns: 900, rows: 740, tiltDeg: 12, tiltTowardsDeg: 60, rollDeg: 176, gradient: 1.4 },
      ...{ blurPx: 0.8, noise: 0.01, jpeg: 85 },
    };
    let pictures: VirtualPicture[];
    const read = (k: number, recipe: unknown = JSON.parse(made.recipeFile)) =>
      checkTones([{ bytes: pictures[k].bytes, fileName: "checked.jpg" }], recipe);
    beforeAll(() => {
      pictures = shots(made, [
        { engraving: machine, camera, seed: 1 },
        { engraving: { ...machine, doseFactor: 1.15 }, camera, seed: 2 },
      ]);
    });

    it("by the machine that was measured, is within the band", async () => {
      const { check } = await read(0);
      expect(check.verdict).toBe("within");
      expect(check.outcome).toMatch(/^All 14 tones came out as predicted/);
      expect(check.advice).toHaveLength(1);
      expect(Math.abs(check.dose.factor - 1)).toBeLessThan(0.04);
    });

    it("with 15 % more dose, came out darker by what such a dose does, and the power to set is told", async () => {
      const { check, places, straightenedFile } = await read(1);
      expect(check.verdict).toBe("dose");
      expect(Math.abs(check.dose.factor - 1.15)).toBeLessThan(0.04);
      const page = await toneCheckPage(check, { file: straightenedFile, ...places, areas: places.patches });
      expect(page).not.toMatch(/<script|<link|<iframe|@import|(?:src|href)="http/i);
      // An outline for every patch, thick where its tone is off.
      const off = new Set(check.steps.filter((step) => step.verdict !== "within").map(({ name }) => name));
      const thick = check.patches.filter(({ shows }) => off.has(shows)).length;
      expect(page.match(/stroke-width="0\.4"/g)).toHaveLength(thick);
      expect(page.match(/stroke-width="0\.1"/g)).toHaveLength(check.patches.length - thick);
      expect(check.outcome).toMatch(/came out too dark, by [\d.]+ to [\d.]+ L\*\. .*more dose/);
      const power = Number(/set ([\d.]+) × the power/.exec(check.advice.join(" "))?.[1]);
      expect(Math.abs(power - 1 / 1.15)).toBeLessThan(0.03);
    });

    it("is refused with the recipe of another card, or none of a check card", async () => {
      const { recipe } = made;
      await expect(read(0, { ...recipe, code: recipe.code.replace(/S\d+/, "S1000") })).rejects.toMatchObject({
        refusal: { id: "card-not-the-recipe" },
      });
      for (const wrong of [
        { steps: undefined },
        { doses: [...recipe.doses].reverse() },
        { doses: [0.9, 1, 1.1] },
        { steps: recipe.steps.map((step) => ({ ...step, name: "tone-99" })) },
      ])
        await expect(read(0, { ...recipe, ...wrong })).rejects.toMatchObject({
          refusal: { id: "check-recipe-other" },
        });
    });
  },
);
