import { beforeAll, describe, expect, it } from "vitest";
import type { PrepareOptions } from "../../src/index.js";
import { prepare } from "../support/prepare.js";
import { middleOf } from "./photograph.js";

/** An option with a value, a job on which it has no effect, and one on which it has. */
type Case = readonly [given: PrepareOptions, idleOn: PrepareOptions, usedOn: PrepareOptions];

const cases: Readonly<Record<string, Case>> = {
  coneLayout: [{ coneLayout: "level" }, { aroundMm: 8 }, { aroundMm: { topMm: 8, bottomMm: 7 } }],
  fit: [{ fit: "contain" }, { widthMm: 6 }, { widthMm: 6, heightMm: 4 }],
  focus: [
    { focus: { xPercent: 10, yPercent: 10 } },
    { widthMm: 6, heightMm: 4, fit: "stretch" },
    { widthMm: 6, heightMm: 4 },
  ],
  toneMap: [{ toneMap: "luminance" }, { widthMm: 6, kind: "solid" }, { widthMm: 6 }],
  clipPercent: [{ clipPercent: 8 }, { widthMm: 6, autoTone: false }, { widthMm: 6 }],
  lineShiftMm: [{ lineShiftMm: 0.08 }, { widthMm: 6, oneWay: true }, { widthMm: 6 }],
  screenAngleDeg: [{ screenAngleDeg: 20 }, { widthMm: 6 }, { widthMm: 6, method: "clustered-dot" }],
  screenLinesPerInch: [{ screenLinesPerInch: 60 }, { widthMm: 6 }, { widthMm: 6, method: "clustered-dot" }],
  clumping: [{ clumping: 0.4 }, { widthMm: 6 }, { widthMm: 6, method: "green-noise" }],
  wavelengthMm: [
    { wavelengthMm: 0.0106 },
    { widthMm: 6 },
    { widthMm: 6, wavelengthMm: 0.00045, defocusMm: 2 },
  ],
  propagationRatio: [
    { propagationRatio: 5 },
    { widthMm: 6 },
    { widthMm: 6, wavelengthMm: 0.0106, defocusMm: 0.5 },
  ],
  seed: [{ seed: 9 }, { widthMm: 6 }, { widthMm: 6, method: "zhou-fang" }],
  scan: [{ scan: "raster" }, { widthMm: 6 }, { widthMm: 6, method: "stucki" }],
};

let photo: Uint8Array;
beforeAll(async () => {
  photo = await middleOf("nagasaki-boats", 96);
});

const made = async (options: PrepareOptions) => {
  const method = options.kind === "solid" ? {} : { method: "bayer-8" };
  const { burnFile, report } = await prepare(photo, { ...method, bitmapOnly: true, ...options });
  const idle = report.warnings.filter(({ code }) => code === "option-idle");
  return { bytes: Buffer.from(burnFile), idle: idle.map(({ data }) => Reflect.get(data, "option")) };
};

// By trial: what is called idle changes no byte, and what is not called idle changes some.
describe.each(Object.entries(cases))("%s", (option, [given, idleOn, usedOn]) => {
  it("is called idle where it changes nothing", async () => {
    const [without, with_] = [await made(idleOn), await made({ ...idleOn, ...given })];
    expect(with_.bytes.equals(without.bytes)).toBe(true);
    expect([without.idle, with_.idle]).toEqual([[], [option]]);
  });

  it("is not called idle where it changes something", async () => {
    const [without, with_] = [await made(usedOn), await made({ ...usedOn, ...given })];
    expect(with_.bytes.equals(without.bytes)).toBe(false);
    expect(with_.idle).toEqual([]);
  });
});

it("a value that is the default is not called idle", async () => {
  expect((await made({ widthMm: 6, fit: "cover", screenAngleDeg: 45, seed: 1 })).idle).toEqual([]);
});
