import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { planesOf } from "../../../sample-images/planes.js";
import { errorMargin } from "../../../src/5-burn/judged-tiles.js";
import { visualErrors } from "../../../src/5-burn/visual-error.js";
import type { PrepareOptions } from "../../../src/index.js";
import { reportOf } from "../../support/prepare.js";
import { photographPath } from "../photograph.js";

const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };

it.each([
  ["coated-steel", "nagasaki-boats", { widthMm: 110, linesPerInch: 508 }, 0.1],
  // The pale outermost strip, half a spot wide, glares millimetres into the piece: the edges count for what they are.
  ["maple", "airplane-from-above", { widthMm: 70, linesPerInch: 1016, spotMm: 0.2 }, 0.15],
] as const)(
  "a sample of a large piece on %s says what the whole says, within its standard error",
  async (material, name, size, share) => {
    const photo = await readFile(photographPath(name));
    const asked: PrepareOptions = { ...size, material, method: "floyd-steinberg" };
    const report = await reportOf(photo, asked);
    const { prediction, job } = report;
    expect(job.columns * job.rows).toBeGreaterThan(3e6);
    expect(prediction?.judgedShare).toBeLessThan(0.75);
    const { wanted, predicted } = await planesOf(photo, asked);
    const [whole] = visualErrors([predicted], wanted, job.columns, {
      pitch: { alongMm: job.pitchAlongMm, acrossMm: job.pitchAcrossMm },
      viewing,
      margin: errorMargin(
        { alongMm: job.spotAlongMm, acrossMm: job.spotAcrossMm },
        { alongMm: job.pitchAlongMm, acrossMm: job.pitchAcrossMm },
      ),
    });
    const error = prediction?.visualErrorRmsStandardError ?? 0;
    expect(error).toBeGreaterThan(0);
    expect(error).toBeLessThan(share * whole.rms);
    // Three standard errors, and what a tile's own edge costs.
    expect(Math.abs((prediction?.visualErrorRms ?? 0) - whole.rms)).toBeLessThan(
      3 * error + 0.01 * whole.rms,
    );
    expect(Math.abs((prediction?.visualErrorBias ?? 0) - whole.bias)).toBeLessThan(0.02);
  },
);

it("a small piece is judged at every pixel", async () => {
  const photo = await readFile(photographPath("nagasaki-boats"));
  const report = await reportOf(photo, { widthMm: 20, method: "floyd-steinberg" });
  expect(report.prediction).toMatchObject({ judgedShare: 1, visualErrorRmsStandardError: 0 });
});
