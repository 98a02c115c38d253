import { describe, expect, it } from "vitest";
import type { Report, ReportAround } from "../../../src/6-report/report.js";
import { roundWarnings } from "../../../src/6-report/words/warnings/round.js";
import type { Judged } from "../../../src/6-report/words/warnings/rule.js";
import { sayWarning } from "../../../src/6-report/words/warnings.js";
import { libraryReader } from "../../../src/core/reader.js";

const cone = (
  least: number,
  most: number,
  layout: "flat" | "level" = "level",
): ReportAround["cone"] & object => ({
  layout,
  slantHeightMm: 50,
  axialHeightMm: 49,
  halfAngleDeg: 4,
  sectorAngleDeg: 25,
  sectorInnerRadiusMm: 200,
  sectorOuterRadiusMm: 250,
  pitchAlongMm: { least: 0.09, most: 0.11 },
  overdriveAlong: { least: 1, most: 1.2 },
  doseFactor: { least, most },
});

function told(around: ReportAround | undefined, changes: object = {}) {
  const usual = { kind: "photo", compensated: true, doseSpread: 0.1, heightMm: 50 };
  const job = { ...usual, ...(around && { around }), ...changes } as Report["job"];
  const codes = Object.keys(roundWarnings) as (keyof typeof roundWarnings)[];
  return codes.flatMap((code) => {
    const data = roundWarnings[code].when({ job } as Judged);
    return data ? [sayWarning({ code, data }, libraryReader)] : [];
  });
}

const cylinder = { topDiameterMm: 40, bottomDiameterMm: 40, circumferenceMm: 125.66 };
const codes = (...args: Parameters<typeof told>) => told(...args).map(({ code }) => code);

describe("the seam", () => {
  const seam = (stepLightness: number, usualStepLightness: number) => ({
    ...cylinder,
    seam: { stepLightness, usualStepLightness },
  });

  it("is told where it jumps by more than 3 L* and by more than twice the usual", () => {
    expect(codes(undefined)).toEqual([]);
    expect(codes(cylinder)).toEqual([]);
    expect(codes(seam(2.9, 0.1))).toEqual([]);
    expect(codes(seam(9.9, 5))).toEqual([]);
    expect(codes(seam(10.1, 5))).toEqual(["seam-shows"]);
  });

  it("says what to do, on a flat cone otherwise", () => {
    expect(told(seam(20, 5))[0].message).toMatch(/L\* jumps by 20, elsewhere by 5.*fit: "contain"/);
    const flat = { ...seam(20, 5), bottomDiameterMm: 41, cone: cone(1, 1, "flat") };
    expect(told(flat)[0].message).toMatch(/coneLayout: "level"/);
  });
});

describe("a cone", () => {
  const around = (bottomDiameterMm: number, least: number, most: number) => ({
    ...cylinder,
    bottomDiameterMm,
    cone: cone(least, most),
  });

  it("is to be tilted where its radius changes by more than 1.5 mm", () => {
    expect(codes(around(43, 0.97, 1.03))).toEqual([]);
    expect(codes(around(43.1, 0.97, 1.03))).toEqual(["cone-slope"]);
    expect(told(around(46, 0.97, 1.03))[0].message).toMatch(/by 4\.0°.*1\.5 mm out of focus either way/);
  });

  it("is doubtful where its doses differ by more than the dose spread", () => {
    expect(codes(around(42, 0.91, 1.09))).toEqual([]);
    expect(codes(around(42, 0.91, 1.11))).toEqual(["cone-dose"]);
    expect(codes(around(42, 0.89, 1.09))).toEqual(["cone-dose"]);
    expect(codes(around(42, 0.91, 1.11), { doseSpread: 0.2 })).toEqual([]);
    expect(told(around(42, 0.9, 1.2))[0].message).toMatch(/120 % of the dose.*90 %.*same mean dose/);
    expect(told(around(42, 0.9, 1.2), { compensated: false })[0].message).toMatch(/not compensated/);
    expect(told(around(42, 0.9, 1.2), { kind: "solid" })[0].message).toMatch(/Marks grow wider/);
  });
});
