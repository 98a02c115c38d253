import { describe, expect, it } from "vitest";
import { lightnessFromLuminance } from "../../../src/core/physics/lightness.js";
import { type Plan, type PlanOptions, type PlanRow, plan } from "../../../src/index.js";
import { gradualPoints } from "../../support/materials.js";

const wood = {
  name: "made-up wood",
  response: gradualPoints.map((point) => [...point]),
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  referencePitchMm: 0.1,
  charDose: 1.2,
  source: "made up",
};
const job: PlanOptions = { kind: "shade", widthMm: 60, heightMm: 40, spotMm: 0.115, material: wood };
const chosen = ({ rows, recommended }: Plan): PlanRow => rows[recommended.row];

/** Mean luminance factor of a fill of Gaussian lines at a mean dose, straight from its definition; the table by straight lines. */
function fillLuminance(pitchMm: number, dose: number): number {
  const sigmaMm = 0.115 / 4;
  const steps = 400;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    let perMm = 0;
    for (let line = -30; line <= 30; line++) {
      const offsetMm = ((i + 0.5) / steps - 0.5 + line) * pitchMm;
      perMm += Math.exp(-(offsetMm ** 2) / (2 * sigmaMm ** 2)) / (sigmaMm * Math.sqrt(2 * Math.PI));
    }
    sum += tableAt(dose * pitchMm * perMm) / steps;
  }
  return sum;
}

function tableAt(dose: number): number {
  const after = gradualPoints.findIndex(([d]) => d >= dose);
  if (after < 0) return gradualPoints[gradualPoints.length - 1][1];
  if (after === 0) return gradualPoints[0][1];
  const [[d0, y0], [d1, y1]] = [gradualPoints[after - 1], gradualPoints[after]];
  return y0 + ((y1 - y0) * (dose - d0)) / (d1 - d0);
}

describe("shading", () => {
  it("gives each density the dose that reaches the tone, by brute force over the ripple", async () => {
    const made = await plan({ ...job, densities: [225, 300, 508, 1000], darkness: 0.6 });
    const bare = lightnessFromLuminance(0.55);
    const wanted = bare + 0.6 * (lightnessFromLuminance(0.08) - bare);
    expect(made.job.limits.lightness).toBeCloseTo(wanted, 3);
    for (const { pitchMm, shade } of made.rows) {
      const reached = lightnessFromLuminance(fillLuminance(pitchMm, shade?.dose ?? 0));
      // The library's curve through the table is smooth, this one is not.
      expect(Math.abs(reached - wanted)).toBeLessThan(1);
    }
  });

  it("pairs density with power or speed so that the dose stays: energy per area is P/(v·pitch)", async () => {
    const { rows } = await plan({ ...job, densities: [300, 508, 1000], speedMmPerS: 400 });
    for (const { pitchMm, shade } of rows) {
      expect(((shade?.powerFactor ?? 0) * 0.1) / pitchMm).toBeCloseTo(shade?.dose ?? 1, 9);
      expect(((400 / (shade?.speedMmPerS ?? 0)) * 0.1) / pitchMm).toBeCloseTo(shade?.dose ?? 1, 9);
    }
    // Lines without ripple: the same dose at any density.
    expect(rows[2].shade?.dose).toBeCloseTo(rows[1].shade?.dose ?? 0, 3);
  });

  it("takes the quickest density that touches and does not char, and names what the next lower one would do", async () => {
    const made = await plan(job);
    const row = chosen(made);
    expect(row).toMatchObject({ gapMm: 0, charRisk: "none" });
    expect(row.shade?.peakDose).toBeLessThan(1.2);
    for (const other of made.rows.filter(({ seconds }) => seconds < row.seconds)) {
      expect(other.gapMm > 0 || other.charRisk !== "none").toBe(true);
    }
    expect(made.recommended.reason).toMatch(/char starts at 1\.2/);
  });

  it("goes to a higher density where the surface chars earlier, since lines closer together ripple less", async () => {
    const tough = chosen(await plan({ ...job, material: { ...wood, charDose: 5 } }));
    const tender = chosen(await plan({ ...job, material: { ...wood, charDose: 0.75 } }));
    expect(tender.linesPerInch).toBeGreaterThan(tough.linesPerInch);
  });

  it("says so where the tone cannot be had without char", async () => {
    const { recommended, notes } = await plan({ ...job, material: { ...wood, charDose: 0.3 } });
    expect(recommended.meetsLimits).toBe(false);
    expect(recommended.reason).toContain("without char");
    expect(notes.map(({ code }) => code)).toContain("char-risk");
  });

  it("asks for the char dose where the material does not tell", async () => {
    const { charDose: _, ...silent } = wood;
    const { recommended, rows } = await plan({ ...job, material: silent });
    expect(rows.every(({ charRisk }) => charRisk === undefined)).toBe(true);
    expect(recommended.whatWouldChangeIt.join(" ")).toContain("charDose");
  });

  it("a darker tone never needs less dose", async () => {
    let before = 0;
    for (const darkness of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      const [row] = (await plan({ ...job, densities: [300], darkness })).rows;
      expect(row.shade?.dose).toBeGreaterThan(before);
      before = row.shade?.dose ?? Number.NaN;
    }
  });

  it("reaches the darkest tone where lines overlap well, at the last dose of the table", async () => {
    // Dose 1 ends the table; lines twice as dense as matched swing by 1.4 %.
    const made = await plan({ ...job, densities: [450, 660], darkness: 1 });
    for (const { shade, charRisk } of made.rows) {
      expect(shade?.dose).toBeGreaterThan(0.9);
      expect(shade?.dose).toBeLessThan(1.05);
      expect(charRisk).toBe("none");
    }
    expect(made.recommended.meetsLimits).toBe(true);
  });

  it("asks whether a coating was meant to be shaded", async () => {
    const { notes } = await plan({ ...job, material: "coated-steel" });
    expect(notes.map(({ code }) => code)).toContain("other-work");
  });
});
