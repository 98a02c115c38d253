import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import type { Plan, PlanOptions, PlanRow } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";
import { plan } from "../../support/prepare.js";

const densities = [110, 166, 221, 254, 298, 442, 663];
const job: PlanOptions = { widthMm: 12, spotMm: 0.115, method: "floyd-steinberg", densities };
const chosen = ({ rows, recommended }: Plan): PlanRow => rows[recommended.row];
const heldIn = (row: PlanRow, detailMm = 0.25): number =>
  row.tonalResolution?.find((tones) => tones.detailMm === detailMm)?.held ?? Number.NaN;
const usefulOf = ({ usefulTones = Number.NaN }: PlanRow): number => usefulTones;
const codes = ({ notes }: Plan): string[] => notes.map(({ code }) => code);

let boats: Uint8Array;
let gradual: Plan;
let steep: Plan;
/** On a machine whose dose varies by 10 % from place to place. */
let unevenSteep: Plan;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
  gradual = await plan({ ...job, material: "maple" }, boats, { fileName: "boats.jpg" });
  steep = await plan({ ...job, material: "coated-steel" }, boats, { fileName: "boats.jpg" });
  const uneven = { ...job, spread: { local: 0.1 } };
  unevenSteep = await plan({ ...uneven, material: "coated-steel" }, boats, { fileName: "boats.jpg" });
});

describe("a photograph", () => {
  it("wants more than the matched density on a gradual material, and says why", () => {
    expect(chosen(gradual).linesPerInch).toBeGreaterThan(gradual.matchedLinesPerInch * 1.05);
    expect(gradual.recommended.reason).toMatch(/gradual.*beyond the matched 221/);
  });

  it("is told what overlapping lines cost on a steep material", () => {
    const { linesPerInch, toneShift = 0 } = chosen(steep);
    expect(linesPerInch).toBeGreaterThan(1.05 * steep.matchedLinesPerInch);
    expect(steep.recommended.reason).toMatch(/steep.*small change of dose shifts whole tones, here by about/);
    expect(steep.recommended.reason).toContain(`${toneShift.toFixed(1)} L*`);
  });

  it("is told where more density makes it worse on a steep material", () => {
    const useful = unevenSteep.rows.map(usefulOf);
    expect(useful[useful.length - 1]).toBeLessThan(Math.max(...useful) - 1);
    expect(codes(unevenSteep)).toContain("steep-density-worse");
    expect(unevenSteep.notes.find(({ code }) => code === "steep-density-worse")?.message).toContain("663");
  });

  it("gets the density from which twice the time adds less than a quarter of useful tones, or the nearest", () => {
    for (const { rows, recommended } of [gradual, steep]) {
      const [, worth] = /From about (\d+) lines per inch on, twice the time would add less than 25 %/.exec(
        recommended.reason,
      ) ?? ["", "NaN"];
      const distances = rows.map(({ linesPerInch, charRisk = "none" }) =>
        charRisk === "none" ? Math.abs(Math.log(linesPerInch / Number(worth))) : Number.POSITIVE_INFINITY,
      );
      expect(recommended.row).toBe(distances.indexOf(Math.min(...distances)));
      // Between the rows on its sides the worth is where a doubling of the time stops to pay, within the scatter of trials.
      const useful = rows.map(usefulOf);
      expect(useful[2] / useful[0]).toBeGreaterThan(1.25);
      expect(useful[6] / useful[5]).toBeLessThan(1.25);
    }
  });

  it("gets the same choice whatever its own tones, and whichever densities stand beside it", async () => {
    const other = await readFile(photographPath("airplane-from-above"));
    const some = await plan({ ...job, material: "maple" }, other);
    expect(some.recommended.linesPerInch).toBe(gradual.recommended.linesPerInch);
    const shared = densities.filter((_, k) => k % 2 === 1);
    const few = await plan({ ...job, densities: shared, material: "maple" }, boats);
    for (const row of few.rows) {
      const same = gradual.rows.find(({ linesPerInch }) => linesPerInch === row.linesPerInch);
      expect(row.usefulTones).toBe(same?.usefulTones);
    }
  });

  it("names the row with the least expected error, if that is another", () => {
    for (const made of [gradual, steep]) {
      const errors = made.rows.map(({ expectedVisualError = Number.NaN }) => expectedVisualError);
      const least = made.rows[errors.indexOf(Math.min(...errors))];
      expect(least).not.toBe(chosen(made));
      expect(made.recommended.reason).toContain(
        `The least error, ${Math.min(...errors).toFixed(2)} L*, is expected at ${Math.round(least.linesPerInch)} lines per inch`,
      );
    }
  });

  it("gets no density that chars if another is offered", async () => {
    const charred = { ...job, material: "maple", densities: [254, 298, 600] };
    const made = await plan(charred, boats);
    expect(made.rows.map(({ charRisk }) => charRisk)).toEqual(["line centres", "line centres", "none"]);
    expect(chosen(made).linesPerInch).toBeCloseTo(600, 9);
    expect(made.recommended.reason).toContain("is the nearest that does not char (298 does)");
    const without = await plan({ ...charred, densities: [254, 298] }, boats);
    expect(chosen(without).linesPerInch).toBeCloseTo(298, 9);
  });
});

describe("more density", () => {
  it("never takes less time and never widens a gap or a ripple", () => {
    for (const { rows } of [gradual, steep]) {
      for (let k = 1; k < rows.length; k++) {
        expect(rows[k].seconds).toBeGreaterThanOrEqual(rows[k - 1].seconds);
        expect(rows[k].gapMm).toBeLessThanOrEqual(rows[k - 1].gapMm);
        expect(rows[k].markGapMm).toBeLessThanOrEqual(rows[k - 1].markGapMm);
        expect(rows[k].ripple).toBeLessThanOrEqual(rows[k - 1].ripple);
      }
    }
  });

  it("may hold fewer tones, never more than a steady dose carries, and the rows show where", () => {
    const turns = steep.rows.filter((row, k) => k > 0 && heldIn(row) < heldIn(steep.rows[k - 1]));
    expect(turns.length).toBeGreaterThan(0);
    for (const { tonalResolution = [] } of [...gradual.rows, ...steep.rows]) {
      for (const { held, nominal } of tonalResolution) expect(held).toBeLessThanOrEqual(nominal);
    }
  });
});

describe("limits", () => {
  const quick = { ...job, densities: [166, 254, 442], material: "maple" } satisfies PlanOptions;

  it("of tones: the least time that holds them", async () => {
    const made = await plan({ ...quick, tones: { count: 10, detailMm: 0.25 } }, boats);
    const enough = made.rows.filter((row) => heldIn(row) >= 10);
    expect(chosen(made).seconds).toBe(Math.min(...enough.map(({ seconds }) => seconds)));
    expect(made.recommended.meetsLimits).toBe(true);
    const hopeless = await plan({ ...quick, tones: { count: 90, detailMm: 0.25 } }, boats);
    expect(hopeless.recommended.meetsLimits).toBe(false);
    expect(hopeless.recommended.reason).toContain("comes nearest");
  });

  it("of time: nothing that takes longer, or a plain no", async () => {
    const [slow] = (await plan({ ...quick, densities: [254] }, boats)).rows;
    const made = await plan({ ...quick, minutes: slow.seconds / 60 - 0.001 }, boats);
    expect(chosen(made).linesPerInch).toBeCloseTo(166, 9);
    const never = await plan({ ...quick, minutes: 0.01 }, boats);
    expect(never.recommended).toMatchObject({ meetsLimits: false, row: 0 });
    expect(never.recommended.reason).toMatch(/^Nothing fits/);
  });
});

it("says that a photo is too small to profit, and compares at a detail that it has", async () => {
  // 40 pixels over 12 mm: 3.3 a millimetre, so that a pixel is wider than the usual detail.
  const small = await sharp(boats).resize(40).png().toBuffer();
  const made = await plan({ ...job, densities: [221, 442], material: "maple" }, small);
  expect(codes(made)).toContain("photo-too-small");
  expect(made.job.detailMm).toBeCloseTo(12 / 40, 2);
  expect(made.rows.every(({ detail }) => detail.limitedBy === "photo")).toBe(true);
  expect(codes(gradual)).not.toContain("photo-too-small");
});

it("stands a built-in picture in for a photo that is not there, and says so", async () => {
  const made = await plan({ ...job, densities: [254], widthMm: 12, heightMm: 8 });
  expect(codes(made)).toContain("built-in-target");
  expect(made.rows[0].detail).not.toHaveProperty("photoLpPerMm");
  expect(made.rows[0].expectedVisualError).toBeGreaterThan(0);
  expect(made.job.widthMm).toBeCloseTo(12, 9);
  // Nothing that JSON could not hold.
  expect(JSON.parse(JSON.stringify(made))).toEqual(made);
});

it("tells what a denser setting now in use would cost", async () => {
  const made = await plan({ ...job, densities: [254], against: 442, material: "maple" }, boats);
  expect(made.rows.map(({ linesPerInch }) => Math.round(linesPerInch))).toEqual([254, 442]);
});

it("plans where neither the grid of its trials nor that of its pictures would fit", async () => {
  // Once round 5 mm, lines at 0.7 times matched for a spot of 0.3 mm leave 37 columns, too few to close; so do 254 round 1.8 mm.
  const ring = { widthMm: undefined, aroundMm: 5, heightMm: 6, spotMm: 0.3, densities: [254, 300] };
  expect((await plan({ ...job, ...ring }, boats)).rows[0].usefulTones).toBeGreaterThan(1);
  const pictures: number[] = [];
  const tiny = { ...ring, aroundMm: 1.8, spotMm: 0.02, densities: [1270] };
  const made = await plan({ ...job, ...tiny }, boats, { onPicture: (row) => pictures.push(row) });
  expect(made.rows).toHaveLength(1);
  expect(pictures).toEqual([]);
});

it("tries no density twice at the limits of what may be asked for", async () => {
  // Matched to 5 mm are 5.08 lines per inch, and 20 is the fewest.
  const made = await plan({ ...job, widthMm: 60, spotMm: 5, densities: [20, 25, 30] }, boats);
  for (const { usefulTones = 0 } of made.rows) expect(usefulTones).toBeGreaterThan(1);
});
