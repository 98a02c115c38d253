import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { WarningCode } from "../../src/6-report/report.js";
import type { PrepareOptions } from "../../src/options/options.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { reportOf } from "../support/prepare.js";

const wood = {
  name: "made-up wood",
  response: gradualPoints,
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "measured",
};
const coat = { ...wood, name: "made-up coat", response: steepPoints };
/** Its tone still changes at the end of the table. */
const still = {
  ...wood,
  name: "made-up board",
  response: [
    [0, 0.6],
    [0.5, 0.4],
    [1, 0.15],
  ] as const,
};
const darkCoat = {
  ...wood,
  name: "made-up dark coat",
  response: lighteningPoints,
  bareColor: "#222222",
  markedColor: "#cccccc",
};

/** 20 mm lines at 9000 mm/s² take least time at √(9000 · 20 / 2) = 300 mm/s. */
const job: PrepareOptions = {
  kind: "photo",
  widthMm: 20,
  heightMm: 8,
  spotMm: 0.1,
  linesPerInch: 508,
  material: wood,
  method: "floyd-steinberg",
  speedMmPerS: 200,
  accelerationMmPerS2: 9000,
};

const grain = { type: "gaussian", mean: 128, sigma: 30 } as const;
const photo = sharp({ create: { width: 500, height: 200, channels: 3, background: "#888", noise: grain } })
  .png()
  .toBuffer();

/** Two pieces that differ in one option; the first gets the warning. */
const pairs: readonly (readonly [WarningCode, given: PrepareOptions, withheld: PrepareOptions])[] = [
  ["steep-at-overdrive", { material: coat }, { material: wood }],
  ["steep-at-overdrive", { material: coat }, { material: coat, linesPerInch: 254 }],
  // A solid fill has dose 1.
  ["char-risk", { material: { ...wood, charDose: 1 } }, { material: { ...wood, charDose: 1.2 } }],
  // At 254 lines per inch the spots just touch, so line centres get 1.6 times the dose of a fill; at 508 the lines are even.
  ["response-extrapolated", { material: still, linesPerInch: 254 }, { material: still }],
  ["response-extrapolated", { material: still, linesPerInch: 254 }, { linesPerInch: 254, material: coat }],
  // What is light burns on a coat over something light.
  ["mostly-burned", { material: darkCoat, brightness: 60 }, { material: wood, brightness: -60 }],
  ["method-drops-tone", { method: "threshold" }, { method: "stucki" }],
  ["method-drops-tone", { method: "threshold" }, { method: "threshold", levels: 256 }],
  ["run-up-dominates", { speedMmPerS: 450 }, { speedMmPerS: 380 }],
  ["lines-shifted", { lineShiftMm: 0.15 }, { lineShiftMm: 0 }],
  ["lines-shifted", { lineShiftMm: 0.15 }, { lineShiftMm: 0.15, oneWay: true }],
  ["firing-blurs", { firingLagUs: 400 }, { firingLagUs: 0 }],
  ["bursts-shortened", { firingLossUs: 60 }, { firingLossUs: 0 }],
  ["bursts-shortened", { firingLossUs: -60 }, { firingLossUs: -3 }],
  ["line-gaps", { linesPerInch: 253 }, { linesPerInch: 254 }],
  ["screen-too-fine", { method: "clustered-dot", screenLinesPerInch: 400 }, { method: "clustered-dot" }],
  ["screen-too-fine", { method: "clustered-dot", screenLinesPerInch: 190 }, { screenLinesPerInch: 190 }],
  ["dose-sensitive", { material: coat, doseSpread: 0.3 }, { material: coat, doseSpread: 0 }],
  ["visible-grain", { viewDistanceMm: 100, linesPerInch: 150 }, { viewDistanceMm: 1000 }],
  ["material-illustrative", { material: "maple" }, { material: wood }],
];

/** Several pairs have a piece in common. */
const known = new Map<string, readonly WarningCode[]>();

async function codes(options: PrepareOptions): Promise<readonly WarningCode[]> {
  const asked = { ...job, ...options };
  const key = JSON.stringify(asked);
  const told = known.get(key) ?? (await reportOf(await photo, asked)).warnings.map(({ code }) => code);
  known.set(key, told);
  return told;
}

describe("a prepared piece", () => {
  const numbered = pairs.map(([code, given, withheld], k) => ({ code, pair: k + 1, given, withheld }));

  it.each(numbered)(
    "gets the warning $code for one of two (pair $pair)",
    async ({ code, given, withheld }) => {
      expect(await codes(given)).toContain(code);
      expect(await codes(withheld)).not.toContain(code);
    },
  );
});
