import { PNG } from "pngjs";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { specOfCode } from "../../src/7-card/card-spec.js";
import { cardLayout } from "../../src/7-card/layout.js";
import { cardRecipe } from "../../src/7-card/recipe.js";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import { type CardOptions, type MadeTestCard, testCard } from "../../src/index.js";
import { resolveOptions } from "../../src/options/options.js";
import { createPatternTones } from "../../src/pipeline/describe/pattern-tones.js";
import { predict } from "../../src/stages/predict.js";

const quick = {
  ...{ material: "maple", linesPerInch: 350, linesPerInchAlong: 420, spotMm: 0.1 },
  ...{ sizeMm: { widthMm: 42, heightMm: 31 }, speedMmPerS: 250 },
} as const satisfies CardOptions;

/** Power of each pixel of a burn file, 0..1, as pngjs reads it. */
function powers(burnFile: Uint8Array): {
  width: number;
  height: number;
  at: (x: number, y: number) => number;
} {
  const { width, height, data } = PNG.sync.read(Buffer.from(burnFile));
  return { width, height, at: (x, y) => 1 - data[4 * (y * width + x)] / 255 };
}

/** The rows of a tile in a recipe, as power 0..1. */
const tileRows = (tile: readonly string[], levels: number): number[][] =>
  tile.map((line) => line.split(levels === 2 ? "" : ".").map((code) => Number(code) / (levels - 1)));

describe.each([2, 16])("a card of %i levels, read as PNG and JSON by another program", (levels) => {
  let made: MadeTestCard;
  let recipe: MadeTestCard["recipe"];
  let pixels: ReturnType<typeof powers>;
  beforeAll(async () => {
    made = await testCard({ ...quick, levels });
    recipe = JSON.parse(made.recipeFile);
    pixels = powers(made.burnFile);
  });
  const place = ({
    leftMm,
    topMm,
    widthMm,
    heightMm,
  }: {
    leftMm: number;
    topMm: number;
    widthMm: number;
    heightMm: number;
  }) => ({
    left: Math.round(leftMm / recipe.pitchAlongMm),
    top: Math.round(topMm / recipe.pitchAcrossMm),
    right: Math.round((leftMm + widthMm) / recipe.pitchAlongMm),
    lower: Math.round((topMm + heightMm) / recipe.pitchAcrossMm),
  });

  it("has the size and both densities that it states", async () => {
    expect([pixels.width, pixels.height]).toEqual([recipe.columns, recipe.rows]);
    expect(recipe.columns).toBe(Math.round((42 * 420) / 25.4));
    expect(recipe.rows).toBe(Math.round((31 * 350) / 25.4));
    const { density } = await sharp(made.burnFile).metadata();
    expect(density).toBe(420);
  });

  it("has at every patch's place exactly the pixels of its pattern", () => {
    const wrong: string[] = [];
    for (const patch of recipe.patches) {
      const rows = tileRows(recipe.patterns[patch.pattern].tile, levels);
      const { left, top, right, lower } = place(patch);
      for (let y = top; y < lower; y++) {
        for (let x = left; x < right; x++) {
          const row = rows[(y - top) % rows.length];
          // Eight bits of a file hold a power to half of 1/255.
          if (Math.abs(pixels.at(x, y) - row[(x - left) % row.length]) > 0.002)
            wrong.push(`${patch.id} ${x} ${y}`);
        }
      }
    }
    expect(wrong).toEqual([]);
  });

  it("is bare outside patches, frame, corners and code, and burns in full in the frame", () => {
    const seen = new Uint8Array(recipe.columns * recipe.rows);
    const mark = (area: Parameters<typeof place>[0]) => {
      const { left, top, right, lower } = place(area);
      for (let y = top; y < lower; y++) seen.fill(1, y * recipe.columns + left, y * recipe.columns + right);
    };
    for (const area of [...recipe.patches, ...recipe.corners.map((corner) => corner.place), recipe.codePlace])
      mark(area);
    const along = Math.round(recipe.frameMm / recipe.pitchAlongMm);
    const across = Math.round(recipe.frameMm / recipe.pitchAcrossMm);
    let wrong = 0;
    for (let y = 0; y < recipe.rows; y++) {
      for (let x = 0; x < recipe.columns; x++) {
        if (seen[y * recipe.columns + x]) continue;
        const inFrame = x < along || y < across || x >= recipe.columns - along || y >= recipe.rows - across;
        if (pixels.at(x, y) !== (inFrame ? 1 : 0)) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it("burns the share that it states", () => {
    let sum = 0;
    for (let y = 0; y < recipe.rows; y++) for (let x = 0; x < recipe.columns; x++) sum += pixels.at(x, y);
    expect(made.card.contents.burnFraction).toBeCloseTo(sum / (recipe.columns * recipe.rows), 4);
    // Neither a nearly bare nor a nearly solid card.
    expect(made.card.contents.burnFraction).toBeGreaterThan(0.2);
    expect(made.card.contents.burnFraction).toBeLessThan(0.45);
  });

  it("is the same when it is made again, and from what its code says", async () => {
    const again = await testCard({ ...quick, levels });
    expect(Buffer.compare(again.burnFile, made.burnFile)).toBe(0);
    expect(Buffer.compare(again.previewFile, made.previewFile)).toBe(0);
    expect(again.recipeFile).toBe(made.recipeFile);
    const fields = Object.fromEntries(recipe.code.split(" ").map((field) => [field[0], field.slice(1)]));
    const { burnFile } = await testCard({
      sizeMm: { widthMm: Number(fields.W), heightMm: Number(fields.H) },
      ...{ linesPerInch: Number(fields.D), linesPerInchAlong: Number(fields.A) },
      ...{ levels: Number(fields.L), speedMmPerS: Number(fields.V) },
    });
    expect(Buffer.compare(burnFile, made.burnFile)).toBe(0);
  });
});

describe("figures with more digits than the code writes", () => {
  it("are rounded before anything is drawn, so the code says exactly what is there", async () => {
    const { recipe } = await testCard({
      ...{ sizeMm: { widthMm: 45.123456, heightMm: 33.333333 }, speedMmPerS: 333.33333333 },
      ...{ linesPerInch: 25.4 / 0.07, linesPerInchAlong: 25.4 / 0.06 },
    });
    // 25.4 / 0.07 = 362.857142…, 25.4 / 0.06 = 423.333333…
    expect(recipe.code).toBe("SPOTPITCH1 W45.12 H33.33 D362.8571 A423.3333 L2 S1 V333.333");
    expect([recipe.linesPerInch, recipe.speedMmPerS]).toEqual([362.8571, 333.333]);
    expect(recipe.pitchAlongMm).toBe(25.4 / 423.3333);
    const spec = specOfCode(recipe.code);
    expect(spec && cardRecipe(cardLayout(spec))).toEqual(recipe);
  });
});

describe("the default density", () => {
  it.each([
    // Four lines to the spot: 4 · 25.4 / 0.1 mm, rounded up to whole lines.
    [{ spotMm: 0.1 }, 1016],
    [{ spotMm: { alongMm: 0.08, acrossMm: 0.15 } }, 678],
    // 24 pixels in the smallest patch: 24 · 25.4 / 1.8 mm.
    [{ spotMm: 0.8 }, 339],
  ])("for %o is %i", async (options, linesPerInch) => {
    const { card } = await testCard({ ...options, sizeMm: quick.sizeMm });
    expect(card.job.linesPerInch).toBe(linesPerInch);
    const [why] = card.notes;
    expect(why).toMatch(new RegExp(`^${linesPerInch} lines per inch are`));
  });

  it("is one that the machine offers, and says so; what it does not offer is not advised", async () => {
    const { card } = await testCard({ ...quick, linesPerInch: undefined, linesPerInchOffered: [254, 508] });
    expect([card.job.linesPerInch, card.job.densityReason]).toEqual([508, "largest-offered"]);
    expect(card.notes[0]).toMatch(/2 lines to a spot of 0\.1 mm, the largest that your machine offers/);
    expect(card.notes[0]).not.toContain("take it, up to");
  });

  it("says what fewer lines cost, and which density is best", async () => {
    const { card } = await testCard({ ...quick, linesPerInch: 508 });
    // 508 lines per inch with a spot of 0.1 mm are two to a spot; 1016 are four.
    expect(card.notes[0]).toMatch(
      /508 lines per inch are 2 lines to a spot of 0\.1 mm\. .*less sure.* up to 1016\./,
    );
  });
});

describe("the words", () => {
  it("say of a material that marks lighter that solid patches come out light", async () => {
    const [maple, slate] = await Promise.all(
      ["maple", "slate"].map(async (material) => (await testCard({ ...quick, material })).card),
    );
    expect([maple.job.marksGrow, slate.job.marksGrow]).toEqual(["darker", "lighter"]);
    expect(maple.steps.join(" ")).toContain("as dark as your material gets");
    expect(slate.steps.join(" ")).toContain("as light as your material gets");
    expect(slate.cautions).not.toEqual(maple.cautions);
  });

  it("say whether to burn in one direction, and so do recipe and code", async () => {
    const { card, recipe } = await testCard({ ...quick, oneWay: true });
    expect(card.steps.join(" ")).toContain("all lines in the same direction");
    expect([recipe.oneWay, recipe.code.endsWith(" O")]).toEqual([true, true]);
    const both = await testCard(quick);
    expect(both.card.steps.join(" ")).toContain("Burn in both directions");
    expect([both.recipe.oneWay, both.recipe.code.endsWith(" O")]).toEqual([false, false]);
  });

  it("tell what a small card leaves out; the usual one leaves out nothing", async () => {
    expect((await testCard(quick)).card.notes.join(" ")).toMatch(
      /This card is small: it has \d+ of 83 patterns/,
    );
    const usual = await testCard({ linesPerInch: 508 });
    expect(usual.card.notes.join(" ")).not.toContain("This card is small");
    expect(usual.card.contents).toMatchObject({ patches: 403, patterns: 83, leftOut: 0, repeats: 4 });
  });

  it("show no speed that nobody gave, and no time of a pixel", async () => {
    const { speedMmPerS: _, ...unsaid } = quick;
    const { card, recipe } = await testCard(unsaid);
    expect(card.steps.join(" ") + card.notes.join(" ")).not.toMatch(/mm\/s|µs/);
    expect(recipe.speedMmPerS).toBeUndefined();
    // 25.4 / 420 mm at 250 mm/s.
    expect((await testCard(quick)).card.notes.join(" ")).toContain("a pixel lasts 240 µs");
  });
});

describe("the tones of the preview", () => {
  it("are the response at the share that burns, where the response is a straight line", () => {
    // The mean of a straight line is the line at the mean, and a dose's mean is the share that burns (section 2 of the model).
    const material = {
      ...{ name: "straight", bareColor: "#ffffff", markedColor: "#000000", source: "made up" },
      response: [
        [0, 0.9],
        [8, 0.1],
      ],
    };
    const toneOf = createPatternTones(
      resolveOptions({ material, linesPerInch: 400, linesPerInchAlong: 500, spotMm: 0.1, lineShiftMm: 0.02 }),
    );
    for (const [columns, rows, codes] of [
      [1, 3, [1, 0, 0]],
      [3, 3, [1, 0, 0, 0, 0, 0, 0, 1, 0]],
      [4, 1, [1, 1, 0, 0]],
      [1, 1, [1]],
    ] as const) {
      const share = codes.reduce<number>((sum, code) => sum + code, 0) / codes.length;
      // Samples and taps leave some ten thousandths of the dose.
      expect(toneOf({ columns, rows, codes: Uint8Array.from(codes) })).toBeCloseTo(0.9 - 0.1 * share, 4);
    }
  });

  it("of a pattern with an odd number of lines are those of a large patch, whose lines run both ways", () => {
    // A steep material, lines of the way back shifted by half a pixel and more: a tile of three lines repeats after six.
    const job = {
      material: "coated-steel",
      linesPerInch: 400,
      linesPerInchAlong: 500,
      spotMm: 0.07,
      lineShiftMm: 0.03,
    };
    // Of the two lines that burn, the lower one comes nearer to the upper one in one direction, and goes away from it in the other.
    const codes = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0];
    const toneOf = createPatternTones(resolveOptions(job));
    const [columns, rows] = [90, 90];
    const large = Uint8Array.from({ length: columns * rows }, (_, i) => {
      const [x, y] = [i % columns, Math.floor(i / columns)];
      return codes[4 * (y % 3) + (x % 4)];
    });
    const { material, spotMm, lineShiftMm } = job;
    const options = { material, spotMm, lineShiftMm, pitchMm: { alongMm: 25.4 / 500, acrossMm: 25.4 / 400 } };
    const predicted = predict({ data: large, width: columns, height: rows }, options);
    let sum = 0;
    for (let y = 24; y < 60; y++) for (let x = 24; x < 60; x++) sum += predicted.pixels.get(y, x);
    expect(toneOf({ columns: 4, rows: 3, codes: Uint8Array.from(codes) })).toBeCloseTo(sum / 36 ** 2, 5);
  });

  it("run from the bare to the marked colour of the material, the solid patches in between none", async () => {
    const { previewFile, recipe } = await testCard({ ...quick, sizeMm: { widthMm: 40, heightMm: 30 } });
    const { data, info } = await sharp(previewFile).raw().toBuffer({ resolveWithObject: true });
    const scale = 24;
    const green = (patch: (typeof recipe.patches)[number]): number => {
      // Just inside the upper left corner, beside the label; margin and bare material round the card are 56 pixels.
      const [x, y] = [patch.leftMm, patch.topMm].map((mm) => Math.round(mm * scale) + 56 + 3);
      return data[info.channels * (y * info.width + x) + 1];
    };
    const [bare, solid] = ["bare", "solid"].map((pattern) =>
      green(recipe.patches.find((patch) => patch.pattern === pattern) ?? recipe.patches[0]),
    );
    expect(linearFromSrgb(solid / 255)).toBeLessThan(0.3 * linearFromSrgb(bare / 255));
    for (const patch of recipe.patches) {
      expect(green(patch)).toBeLessThanOrEqual(bare);
      expect(green(patch)).toBeGreaterThanOrEqual(solid);
    }
  });
});

describe("what cannot be made is said in one sentence with what to do", () => {
  it.each<readonly [CardOptions, string, RegExp]>([
    [
      { sizeMm: { widthMm: 25, heightMm: 25 } },
      "OPTION_CONFLICT",
      /^sizeMm leaves too little room .* 40 × 30 mm/,
    ],
    [{ sizeMm: { widthMm: 400, heightMm: 60 } }, "OPTION_INVALID", /^sizeMm takes 20 to 300 mm/],
    [
      { linesPerInch: 200, spotMm: 0.3 },
      "OPTION_CONFLICT",
      /^linesPerInch is too coarse .* 204 lines per inch or more/,
    ],
    [
      { linesPerInch: 300, spotMm: 0.06 },
      "OPTION_CONFLICT",
      /^linesPerInch is too coarse .* bare gaps.* 424 lines/,
    ],
    [
      { linesPerInch: 5080, sizeMm: { widthMm: 300, heightMm: 300 } },
      "OPTION_TOO_LARGE",
      /^This size at this density makes 60000 × 60000 pixels/,
    ],
    [{ levels: 1 }, "OPTION_INVALID", /^levels takes/],
    [{ material: "vinyl" }, "OPTION_MATERIAL_FORBIDDEN", /PVC|chlor/i],
  ])("%o", async (options, code, message) => {
    await expect(testCard(options)).rejects.toMatchObject({ code, message: expect.stringMatching(message) });
  });
});
