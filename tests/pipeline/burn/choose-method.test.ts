import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../../src/4-halftone/catalogue.js";
import type { ResponsePoints } from "../../../src/core/material/response.js";
import { gradualPoints, steepPoints } from "../../support/materials.js";
import { reportOf } from "../../support/prepare.js";
import { middleOf } from "../photograph.js";

const material = (name: string, response: ResponsePoints) => ({
  name,
  response,
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "made up for the test",
});

/** Families whose dots form clusters. They are robust if single dots are fragile. */
const CLUSTERED = ["green noise", "clustered dot"];
const familyOf = (id: string) => halftoneMethods.find((method) => method.id === id)?.family ?? "";

describe("--method auto", () => {
  const job = { spotMm: 0.115, autoTone: false } as const;

  // The design's own table says that a steep material at high overdrive is fragile and that clustered texture holds up better.
  it("finds clustered texture by itself on a steep material at overdrive 4.6", async () => {
    const photo = await middleOf("airplane-from-above", 200);
    const report = await reportOf(photo, {
      ...job,
      linesPerInch: 1016,
      widthMm: 5,
      material: material("steep", steepPoints),
    });
    expect(CLUSTERED).toContain(familyOf(report.job.method));
    const errors = new Map(report.methodRanking?.map((entry) => [entry.method, entry.trialError]));
    const chosen = errors.get(report.job.method) ?? Number.NaN;
    expect(chosen).toBeLessThan(0.67 * (errors.get("floyd-steinberg") ?? Number.NaN));
  });

  it("stays with scattered dots where nothing is noticeably better: a gradual material at the matched density", async () => {
    const photo = await middleOf("airplane-from-above", 200);
    const report = await reportOf(photo, {
      ...job,
      linesPerInch: 225,
      widthMm: 22,
      material: material("gradual", gradualPoints),
    });
    expect(CLUSTERED).not.toContain(familyOf(report.job.method));
    const errors = new Map(report.methodRanking?.map((entry) => [entry.method, entry.trialError]));
    const chosen = errors.get(report.job.method) ?? Number.NaN;
    expect(chosen).toBeLessThan(Math.min(...errors.values()) + 0.3);
  });
});
