import { expect, it } from "vitest";
import * as stages from "../../../src/stages.js";
import { gradualPoints } from "../../support/materials.js";

const SIDE_PX = 96;
const job = { pitchMm: 0.05, spotMm: 0.115, response: gradualPoints } as const;

/** A ramp with a ring in it. */
const luminance = stages.plane(
  "luminance",
  Float32Array.from({ length: SIDE_PX ** 2 }, (_, at) => {
    const [x, y] = [at % SIDE_PX, Math.floor(at / SIDE_PX)];
    const ring = Math.abs(Math.hypot(x - 48, y - 48) - 30) < 4 ? 0.15 : 0;
    return 0.1 + (0.7 * x) / SIDE_PX + ring;
  }),
  SIDE_PX,
  SIDE_PX,
);

it("lowers the error of a bitmap as a stage of its own, and changes neither picture", async () => {
  const begun = stages.halftone(stages.compensate(luminance, { ...job, method: "floyd-steinberg" }), {
    ...job,
    method: "floyd-steinberg",
  });
  const bitsBefore = Uint8Array.from(stages.denseData(begun));
  const tonesBefore = Float32Array.from(stages.denseData(luminance));
  const out = new Uint8Array(SIDE_PX ** 2);
  const searched = await stages.searchBitmap(begun, luminance, { ...job, aim: "nominal", out });
  expect(stages.denseData(searched)).toBe(out);
  expect(stages.denseData(begun)).toEqual(bitsBefore);
  expect(stages.denseData(luminance)).toEqual(tonesBefore);
  const wanted = stages.wantedLuminance(luminance, job);
  const errorOf = (bitmap: stages.Bitmap) =>
    stages.visualError(stages.predict(bitmap, job), wanted, { pitchMm: 0.05 }).rms;
  expect(errorOf(begun) / errorOf(searched)).toBeGreaterThan(1.5);
});

it("is refused for pictures of two sizes, for unknown options, and as a halftone of rows", async () => {
  const small = stages.plane("bitmap", new Uint8Array(16), 4, 4);
  await expect(stages.searchBitmap(small, luminance, job)).rejects.toThrow(/as large as bitmap/);
  const bitmap = stages.plane("bitmap", new Uint8Array(SIDE_PX ** 2), SIDE_PX, SIDE_PX);
  await expect(
    stages.searchBitmap(bitmap, luminance, { ...job, method: "burn-search" } as never),
  ).rejects.toMatchObject({ code: "OPTION_UNKNOWN" });
  expect(() => stages.measureToneCurve({ ...job, method: "burn-search" })).toThrow(/call searchBitmap/);
});
