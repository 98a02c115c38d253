import { beforeAll, describe, expect, it } from "vitest";
import { type Plan, type PlanOptions, type PlanRow, plan } from "../../../src/index.js";
import { checkNumber } from "../../support/check-values.js";

const job: PlanOptions = { kind: "strip", widthMm: 60, heightMm: 40, spotMm: 0.115 };
const chosen = ({ rows, recommended }: Plan): PlanRow => rows[recommended.row];
const rowAt = ({ rows }: Plan, linesPerInch: number): PlanRow => {
  const row = rows.find((each) => Math.round(each.linesPerInch) === linesPerInch);
  if (!row) throw new Error(`no row at ${linesPerInch}`);
  return row;
};

// Common practice, no source: with a 0.115 mm spot a coating comes off cleanly and looks the same from 225 to 800 lines per
// inch, while 150 leaves visible uncut lines.
describe.each([
  ["a mark measured at 0.115 mm", { ...job, markMm: 0.115, material: "coated-steel" }],
  ["a mark computed from the line's dose", { ...job, material: "coated-steel" }],
  ["a mark taken to be the spot", { ...job, material: "denim" }],
] satisfies [string, PlanOptions][])("stripping with %s", (_, options) => {
  let made: Plan;
  beforeAll(async () => {
    made = await plan(options);
  });

  it("takes 221 to 260 lines per inch, the lowest density that overlaps by the margin", () => {
    const row = chosen(made);
    expect(row.linesPerInch).toBeGreaterThanOrEqual(221);
    expect(row.linesPerInch).toBeLessThanOrEqual(260);
    expect(row.markGapMm).toBe(0);
    expect(row.pitchMm).toBeLessThanOrEqual(row.markWidthMm / 1.05 + 1e-9);
    const lower = made.rows.filter(({ linesPerInch }) => linesPerInch < row.linesPerInch);
    for (const { pitchMm, markWidthMm } of lower) expect(pitchMm).toBeGreaterThan(markWidthMm / 1.05);
    expect(made.recommended).toMatchObject({ meetsLimits: true, linesPerInch: row.linesPerInch });
  });

  it("says what that saves against 800: some 3.5 times", () => {
    const ratio = rowAt(made, 800).seconds / chosen(made).seconds;
    // Of 221 to 260 lines per inch: 800/260 = 3.08 and 800/221 = 3.62.
    expect(ratio).toBeGreaterThan(3.07);
    expect(ratio).toBeLessThan(3.7);
    expect(made.recommended.reason).toContain(
      `800 lines per inch would take ${Number(ratio.toPrecision(2))} times as long`,
    );
    expect(made.recommended.reason).toMatch(/5 % of overlap/);
  });
});

it("picks 232 for a 0.115 mm mark: 220.87 by the definition of the inch, and 5 % more", async () => {
  const made = await plan({ ...job, markMm: 0.115, material: "coated-steel" });
  expect(chosen(made).linesPerInch).toBeCloseTo(Math.ceil(1.05 * checkNumber("density.match")), 9);
});

describe("densities that the machine offers", () => {
  const offered = (densities: number[], more: PlanOptions = {}) =>
    plan({ ...job, markMm: 0.115, densities, ...more });

  it("are all that is compared", async () => {
    const made = await offered([800, 150, 254, 300]);
    expect(made.rows.map(({ linesPerInch }) => Math.round(linesPerInch))).toEqual([150, 254, 300, 800]);
    expect(chosen(made).linesPerInch).toBeCloseTo(254, 9);
  });

  it("may all be too low, and then it says what stays", async () => {
    const { recommended, rows } = await offered([100, 150]);
    expect(recommended).toMatchObject({ meetsLimits: false, row: 1 });
    expect(rows[1].markGapMm).toBeCloseTo(checkNumber("density.150.gap"), 6);
    expect(recommended.reason).toContain("0.0543 mm");
  });

  it("may take longer than allowed, and then the surface comes before the time", async () => {
    const { recommended, rows } = await offered([150, 254], { minutes: 1 });
    expect(recommended.meetsLimits).toBe(false);
    expect(rows[recommended.row].linesPerInch).toBeCloseTo(254, 9);
    expect(recommended.reason).toContain("1 min allowed");
  });
});

it("a wider margin never takes a lower density", async () => {
  let before = 0;
  for (const margin of [0, 0.05, 0.1, 0.3, 1]) {
    const { linesPerInch } = chosen(await plan({ ...job, markMm: 0.115, margin }));
    expect(linesPerInch).toBeGreaterThan(before);
    before = linesPerInch;
  }
});

it("of several spots takes the one that is through first: the widest", async () => {
  const made = await plan({ ...job, material: "denim", spotMm: [0.08, 0.2, 0.115] });
  expect(made.lenses[chosen(made).lens].name).toBe("spot 0.2 mm");
  expect(made.matchedLinesPerInch).toBeCloseTo(127, 9);
  expect(made.recommended.reason).toContain("Of 3 spots");
});

it("asks whether wood was meant to be stripped", async () => {
  const codes = async (material: string) => (await plan({ ...job, material })).notes.map(({ code }) => code);
  expect(await codes("maple")).toContain("other-work");
  expect(await codes("coated-steel")).not.toContain("other-work");
});

it("says how narrow a mark the choice tolerates, among the machine's own densities", async () => {
  const densities = [150, 254, 300, 500, 800];
  const { recommended } = await plan({ ...job, markMm: 0.115, material: "coated-steel", densities });
  expect(recommended.linesPerInch).toBeCloseTo(254, 9);
  // 25.4 / 254 and 25.4 / 300.
  expect(recommended.whatWouldChangeIt[0]).toMatch(
    /narrower than 0\.1 mm .* 300 tolerates marks as narrow as 0\.0847 mm/,
  );
});

it("calls a spot computed for a perfect beam and lens the best case", async () => {
  const { spotMm: _, ...rest } = job;
  const optics = { wavelengthMm: 0.0106, focalLengthMm: 50.8, beamDiameterMm: 7, markMm: 0.1 };
  const codes = async (more: PlanOptions) =>
    (await plan({ ...rest, ...optics, ...more })).notes.map(({ code }) => code);
  expect(await codes({})).toContain("best-case-optics");
  expect(await codes({ propagationRatio: 1.2 })).not.toContain("best-case-optics");
  expect(await codes({ lensShape: "plano-convex" })).not.toContain("best-case-optics");
});
