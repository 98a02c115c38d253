import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { prepare } from "../../src/index.js";
import { checkNumber } from "../support/check-values.js";

const black = await sharp({ create: { width: 400, height: 160, channels: 3, background: "black" } })
  .png()
  .toBuffer();

describe("run time of a solid piece", () => {
  const secondsAt = async (linesPerInch: number): Promise<number> => {
    const job = { widthMm: 100, heightMm: 40, linesPerInch, autoTone: false, bitmapOnly: true } as const;
    const { report } = await prepare(black, {
      ...job,
      speedMmPerS: 500,
      accelerationMmPerS2: 10000,
      method: "floyd-steinberg",
    });
    expect(report.coverage.burnFraction).toBe(1);
    return report.runTime.seconds;
  };

  it.each([150, 254, 508, 1016])(
    "follows the density within 1 %: %d against 300 lines per inch",
    async (density) => {
      expect((await secondsAt(density)) / (await secondsAt(300)) / (density / 300)).toBeCloseTo(1, 2);
    },
  );

  it("is that of the kinematics: lines times span/v + 2v/a (check values, 1000 lines)", async () => {
    const lines = Math.round((40 * 254) / 25.4);
    expect(await secondsAt(254)).toBeCloseTo(
      (checkNumber("time.bidir.100-500-10000-1000") * lines) / 1000,
      1,
    );
  });
});
