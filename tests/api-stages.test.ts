import { readFileSync } from "node:fs";
import ndarray from "ndarray";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { SpotpitchError } from "../src/index.js";
import * as stages from "../src/stages.js";
import { prepare } from "./support/prepare.js";

const photoBytes = readFileSync("sample-images/harbour.jpg");

/** Settings of a small job, as the stages and `prepare` both name them. */
const beam = { spotMm: 0.115, firingLagUs: 40, lineShiftMm: 0.01 };
const settings = { ...beam, material: "slate", method: "floyd-steinberg" };
const pitchMm = 25.4 / 254;

const codeOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof SpotpitchError) return error.code;
    throw error;
  }
  return "none";
};

async function luminanceOnGrid() {
  const photo = await stages.decodePhoto(photoBytes);
  const [sourceRows, sourceColumns] = photo.luminance.pixels.shape;
  const frame = stages.frameOnGrid({ sourceColumns, sourceRows, widthMm: 12, heightMm: 9, pitchMm });
  const { columns, rows, window } = frame;
  const toned = stages.adjustTones(photo.luminance, { autoTone: false, gamma: 1.2 });
  const placed = stages.resample(toned, { columns, rows, window, pitchMm });
  return stages.sharpenForSpot(placed, { spotMm: beam.spotMm, sharpen: 0.5 });
}

describe("the stages in a row", () => {
  for (const method of ["floyd-steinberg", "bayer-8", "dose-feedback"]) {
    it(`make the bitmap, the error and the tones of prepare: ${method}`, async () => {
      const asked = { ...settings, method };
      const spread = { local: 0.03, localLengthMm: 1, line: 0.08 };
      const piece = await prepare(photoBytes, {
        ...asked,
        spread,
        widthMm: 12,
        heightMm: 9,
        linesPerInch: 254,
        autoTone: false,
        gamma: 1.2,
        sharpen: 0.5,
        kind: "photo",
      });

      const luminance = await luminanceOnGrid();
      const curve = stages.measureToneCurve({ ...asked, pitchMm });
      const fractions = stages.compensate(luminance, { ...asked, curve });
      const bitmap = stages.halftone(fractions, asked);
      expect(stages.denseData(bitmap)).toEqual(stages.denseData(piece.bitmap));
      expect(bitmap.pitch).toEqual(piece.bitmap.pitch);

      const surface = { ...beam, material: "slate" };
      const predicted = stages.predict(bitmap, surface);
      const wanted = stages.wantedLuminance(luminance, surface);
      const error = stages.visualError(predicted, wanted);
      // One transform filters two predictions in single precision: the other one leaves its rounding.
      expect(error.rms).toBeCloseTo(piece.report.prediction?.visualErrorRms ?? Number.NaN, 5);
      const range = stages.reachableTones({ ...surface, pitchMm });
      expect(range.darkest).toBe(piece.report.prediction?.darkestLuminance);
      const tones = await stages.tonalResolution({ ...asked, spread, pitchMm, curve });
      expect(tones).toEqual(piece.report.tonalResolution);
      expect(stages.runTime(bitmap).seconds).toBeCloseTo(piece.report.runTime.seconds, 9);
      // The bytes differ: only prepare tells deflate about the repeats of a screen.
      const pixels = (file: Uint8Array) => sharp(file).raw().toBuffer();
      expect(await pixels(await stages.encodeBitmap(bitmap))).toEqual(await pixels(piece.burnFile));
    });
  }
});

describe("a picture", () => {
  const data = Float32Array.from({ length: 12 }, (_, i) => i / 11);
  const grid = { ...settings, pitchMm };

  it("may be a plane, an ndarray of any strides, or an array with its size", () => {
    const expected = stages.denseData(stages.halftone({ data, width: 4, height: 3 }, grid));
    const plane = stages.plane("burn-fraction", data, 3, 4);
    expect(stages.denseData(stages.halftone(plane, grid))).toEqual(expected);
    const columnMajor = new Float32Array(12);
    for (let i = 0; i < 12; i++) columnMajor[(i % 4) * 3 + Math.floor(i / 4)] = data[i];
    const strided = ndarray(columnMajor, [3, 4], [1, 3]);
    expect(stages.denseData(stages.halftone(strided, grid))).toEqual(expected);
  });

  it("is never modified, and the result goes to out", () => {
    const before = data.slice();
    const out = new Uint8Array(12);
    const bitmap = stages.halftone({ data, width: 4, height: 3 }, { ...grid, out });
    expect(bitmap.pixels.data).toBe(out);
    expect(data).toEqual(before);
    const sharpened = new Float32Array(12);
    const asked = { pitchMm, spotMm: 0.2, sharpen: 1, out: sharpened };
    expect(stages.sharpenForSpot({ data, width: 4, height: 3 }, asked).pixels.data).toBe(sharpened);
    expect(data).toEqual(before);
  });

  it("is refused with a code where it does not fit", () => {
    const halftone = (picture: stages.Picture<"burn-fraction">, more = {}) =>
      codeOf(() => stages.halftone(picture, { ...grid, ...more }));
    expect(halftone({ data, width: 4, height: 3 })).toBe("none");
    expect(halftone({ data, width: 5, height: 3 })).toBe("OPTION_INVALID");
    expect(halftone({ data, width: 0, height: 3 })).toBe("OPTION_INVALID");
    expect(halftone({ data, width: 2.4, height: 5 })).toBe("OPTION_INVALID");
    expect(halftone(ndarray(data, [3, 2, 2]))).toBe("OPTION_INVALID");
    expect(halftone({ data: data.with(3, Number.NaN), width: 4, height: 3 })).toBe("OPTION_INVALID");
    expect(halftone({ data: data.with(3, 1.5), width: 4, height: 3 })).toBe("OPTION_INVALID");
    const luminance = stages.plane("luminance", data, 3, 4);
    expect(halftone(luminance as never)).toBe("OPTION_INVALID");
    expect(halftone({ data: new Uint8Array(12) as never, width: 4, height: 3 })).toBe("OPTION_INVALID");
    const short = { out: new Uint8Array(11) };
    expect(halftone({ data, width: 4, height: 3 }, short)).toBe("OPTION_INVALID");
    const shared = { pitchMm, spotMm: 0.2, sharpen: 1, out: data };
    expect(codeOf(() => stages.sharpenForSpot({ data, width: 4, height: 3 }, shared))).toBe("OPTION_INVALID");
    // The photo's memory, and that of its opacity, seen as tones.
    const memory = [new ArrayBuffer(64), new ArrayBuffer(64)];
    const [codes, opacity] = memory.map((buffer) => ({
      data: new Uint16Array(buffer, 0, 12),
      ...{ width: 4, height: 3 },
    }));
    for (const buffer of memory) {
      const adjusted = { opacity, out: new Float32Array(buffer, 0, 12) };
      expect(codeOf(() => stages.adjustTones(codes, adjusted))).toBe("OPTION_INVALID");
    }
    expect(codeOf(() => stages.adjustTones(codes, { opacity, out: new Float32Array(12) }))).toBe("none");
  });

  it("of burn fractions may be −1 and a rounding error off 0, and nothing between", () => {
    const burned = (fraction: number) => {
      const picture = { data: new Float32Array(12).fill(fraction), width: 4, height: 3 };
      return stages.denseData(stages.halftone(picture, grid));
    };
    const bare = new Uint8Array(12);
    for (const fraction of [0, -1e-7, -1, -1 + 1e-7]) expect(burned(fraction)).toEqual(bare);
    for (const fraction of [-0.001, -0.5, -0.999]) {
      expect(codeOf(() => burned(fraction))).toBe("OPTION_INVALID");
    }
  });

  it("has whole sides", () => {
    for (const [rows, columns] of [
      [2.4, 5],
      [-3, -4],
      [0, 0],
      [Number.NaN, 4],
    ]) {
      expect(codeOf(() => stages.plane("luminance", new Float32Array(12), rows, columns))).toBe(
        "OPTION_INVALID",
      );
    }
  });
});

describe("an option of a stage", () => {
  const picture = { data: new Float32Array(64).fill(0.5), width: 8, height: 8 };
  const halftone = (options: object) =>
    codeOf(() => stages.halftone(picture, { ...settings, pitchMm, ...options }));

  it("is checked as prepare checks it", () => {
    expect(halftone({ spotMm: 0 })).toBe("OPTION_INVALID");
    expect(halftone({ pitchMm: 2 })).toBe("OPTION_INVALID");
    expect(halftone({ pitchMm: undefined })).toBe("OPTION_INVALID");
    expect(halftone({ pitchMm: { alongMm: 0.1 } })).toBe("OPTION_INVALID");
    expect(halftone({ spotmm: 0.1 })).toBe("OPTION_UNKNOWN");
    expect(halftone({ widthMm: 10 })).toBe("OPTION_UNKNOWN");
    expect(halftone({ method: "auto" })).toBe("OPTION_INVALID");
    expect(halftone({ method: undefined })).toBe("OPTION_INVALID");
    expect(halftone({ method: "floyd" })).toBe("OPTION_METHOD_UNKNOWN");
    expect(halftone({ method: "green-noise", levels: 4 })).toBe("OPTION_METHOD_LEVELS");
    expect(halftone({ method: "stevenson-arce" })).toBe("OPTION_METHOD_GRID");
    expect(halftone({ material: "pvc" })).toBe("OPTION_MATERIAL_FORBIDDEN");
    expect(halftone({ response: [[0, 0.9]], material: undefined })).toBe("INPUT_MATERIAL_INVALID");
    expect(halftone({ response: [[0, 0.9]] })).toBe("OPTION_CONFLICT");
  });

  it("takes a material by name, as a file holds it, or resolved; or a bare response", async () => {
    const { findMaterial, materialPresets } = await import("../src/index.js");
    const maple = findMaterial("maple");
    const range = (surface: stages.SurfaceOptions) => stages.reachableTones({ pitchMm, ...surface });
    const expected = range({ material: "maple" });
    expect(range({ material: maple })).toEqual(expected);
    expect(range({ response: maple.response })).toEqual(expected);
    expect(materialPresets.map(({ id }) => id)).toContain("maple");
  });

  it("levels: a bitmap may hold no more than they allow", () => {
    const bitmap = { data: new Uint8Array(64).fill(3), width: 8, height: 8 };
    expect(codeOf(() => stages.predict(bitmap, { pitchMm }))).toBe("OPTION_INVALID");
    expect(codeOf(() => stages.predict(bitmap, { pitchMm, levels: 4 }))).toBe("none");
    expect(codeOf(() => stages.predict(bitmap, { pitchMm, levels: 4.5 }))).toBe("OPTION_INVALID");
    expect(codeOf(() => stages.predict(bitmap, { pitchMm, levels: 257 }))).toBe("OPTION_INVALID");
  });
});

describe("expose", () => {
  it("gives a solid fill's middle the mean dose 1 (energy balance)", () => {
    const bitmap = { data: new Uint8Array(1600).fill(1), width: 40, height: 40 };
    const { dose, samples } = stages.expose(bitmap, { pitchMm: 0.05, spotMm: 0.15 });
    expect(samples).toEqual(stages.exposureSamples({ pitchMm: 0.05, spotMm: 0.15 }));
    expect(dose.shape).toEqual([40 * samples.across, 40 * samples.along]);
    let sum = 0;
    for (let y = 0; y < samples.across; y++) {
      for (let x = 0; x < samples.along; x++)
        sum += dose.get(20 * samples.across + y, 20 * samples.along + x);
    }
    expect(sum / (samples.along * samples.across)).toBeCloseTo(1, 5);
  });

  it("puts samples where they lie: a single pixel's dose is symmetric about it, without a lag", () => {
    const data = new Uint8Array(21 * 21);
    data[10 * 21 + 10] = 1;
    const { dose } = stages.expose({ data, width: 21, height: 21 }, { pitchMm: 0.05, spotMm: 0.15 });
    const [rows, columns] = dose.shape;
    for (const [y, x] of [
      [rows >> 1, 3],
      [12, 17],
      [rows >> 1, columns >> 1],
    ]) {
      const at = dose.get(y, x);
      expect(dose.get(rows - 1 - y, columns - 1 - x)).toBeCloseTo(at, 6);
      expect(dose.get(y, columns - 1 - x)).toBeCloseTo(at, 6);
    }
  });
});

describe("the dose of one pixel", () => {
  // Neither the pitches, nor the spot, nor the samples, nor the sides of the bitmap are the same along and across.
  const options = {
    pitchMm: { alongMm: 0.09, acrossMm: 0.04 },
    spotMm: { alongMm: 0.09, acrossMm: 0.14 },
  };
  const [columns, rows] = [9, 21];
  const data = new Uint8Array(columns * rows);
  data[10 * columns + 4] = 1;
  const { dose, samples } = stages.expose({ data, width: columns, height: rows }, options);
  const { pitchMm: pitch, spotMm: spot } = options;

  /** Gaussian whose 1/e² diameter is given, of area 1 (A. E. Siegman, Lasers, 1986, ch. 17). */
  const gaussian = (x: number, diameter: number): number =>
    (4 / diameter / Math.sqrt(2 * Math.PI)) * Math.exp((-8 * x * x) / diameter ** 2);
  /** A box of one pitch along the line, blurred by the spot: by summing it up in narrow parts. */
  const alongLine = (x: number): number => {
    let sum = 0;
    for (let k = 0; k < 400; k++) sum += gaussian(x - pitch.alongMm * ((k + 0.5) / 400 - 0.5), spot.alongMm);
    return (sum * pitch.alongMm) / 400;
  };

  it("is the blurred box times the spot's profile, at the place of every sample", () => {
    expect(samples.along).not.toBe(samples.across);
    expect(dose.shape).toEqual([rows * samples.across, columns * samples.along]);
    for (let y = 0; y < dose.shape[0]; y++) {
      const acrossMm = ((y + 0.5) / samples.across - 10.5) * pitch.acrossMm;
      for (let x = 0; x < dose.shape[1]; x++) {
        const alongMm = ((x + 0.5) / samples.along - 4.5) * pitch.alongMm;
        const expected = alongLine(alongMm) * pitch.acrossMm * gaussian(acrossMm, spot.acrossMm);
        expect(Math.abs(dose.get(y, x) - expected), `sample ${x}, ${y}`).toBeLessThan(2e-4);
      }
    }
  });
});

describe("a tone curve", () => {
  it("is refused where it is none", () => {
    const curve = (fractions: number[], luminance: number[]) => () =>
      stages.invertToneCurve({
        fractions: Float64Array.from(fractions),
        luminance: Float64Array.from(luminance),
      });
    expect(codeOf(curve([0, 0.5, 1], [0.8, 0.4, 0.1]))).toBe("none");
    expect(codeOf(curve([0, 0.5, 1], [0.8, 0.9, 0.1]))).toBe("OPTION_INVALID");
    expect(codeOf(curve([0, 0.5], [0.8, 0.4]))).toBe("OPTION_INVALID");
    expect(codeOf(curve([0, 0.5, 1], [0.8, 0.4]))).toBe("OPTION_INVALID");
    // Linear between its points, by hand.
    expect(curve([0, 0.5, 1], [0.8, 0.4, 0.1])()(0.6)).toBeCloseTo(0.25, 12);
  });
});

describe("the limit of pixels", () => {
  it("refuses a photo that declares one pixel more", async () => {
    const { columns, rows } = await stages.inspectPhoto(photoBytes);
    const maxPixels = columns * rows - 1;
    const refused = { code: "INPUT_TOO_LARGE" };
    await expect(stages.decodePhoto(photoBytes, { maxPixels })).rejects.toMatchObject(refused);
    await expect(stages.inspectPhoto(photoBytes, { maxPixels })).rejects.toMatchObject(refused);
    await expect(stages.inspectPhoto(photoBytes, { maxPixels: columns * rows })).resolves.toBeDefined();
  });
});

describe("whatever a caller passes", () => {
  const picture = { data: new Float32Array(16).fill(0.5), width: 4, height: 4 };
  const bits = { data: new Uint8Array(16).fill(1), width: 4, height: 4 };
  const codes = { data: new Uint16Array(16).fill(30000), width: 4, height: 4 };
  const grid = { pitchMm };
  // A method that needs no measurement, because these tests are about refusals.
  const quick = { ...settings, method: "threshold", pitchMm };
  // Each stage with arguments that it takes.
  const calls: Record<string, (...args: never[]) => unknown> = { ...stages } as never;
  const good: Record<string, unknown[]> = {
    addLocalContrast: [picture, { localContrast: 0.5 }],
    adjustTones: [codes, {}],
    compensate: [picture, quick],
    decodePhoto: [photoBytes, {}],
    detailLimits: [{ ...grid, photoPxPerMm: 20 }],
    encodeBitmap: [bits, grid],
    expose: [bits, grid],
    exposureSamples: [grid],
    frameOnGrid: [{ ...grid, sourceColumns: 30, sourceRows: 20, widthMm: 3 }],
    halftone: [picture, quick],
    inspectPhoto: [photoBytes, {}],
    invertToneCurve: [{ fractions: Float64Array.of(0, 1), luminance: Float64Array.of(0.6, 0.1) }],
    measureToneCurve: [quick],
    predict: [bits, grid],
    reachableTones: [grid],
    resample: [picture, { columns: 3, rows: 3 }],
    runTime: [bits, grid],
    searchBitmap: [bits, picture, grid],
    sharpenForSpot: [picture, { ...grid, sharpen: 1 }],
    tonalResolution: [{ ...quick, pitchMm: 1 }],
    visualError: [picture, picture, grid],
    wantedLuminance: [picture, grid],
  };
  const junk = [undefined, null, 7, "boat", {}, [], Number.NaN, Symbol("boat")];
  const told = async (name: string, args: unknown[]): Promise<unknown> => {
    try {
      return (await calls[name](...(args as never[]))) && "done";
    } catch (error) {
      return error instanceof SpotpitchError && error.code !== "INTERNAL" ? "refused" : error;
    }
  };

  it("leaves no stage out", () => {
    const plain = [
      "denseData",
      "halftoneMethods",
      "luminanceFactorAt",
      "photoFormats",
      "plane",
      "resampleFilters",
    ];
    expect([...Object.keys(good), ...plain].sort()).toEqual(Object.keys(stages).sort());
  });

  it.each(Object.keys(good))("%s refuses with a code, or works", async (name) => {
    expect(await told(name, good[name])).toBe("done");
    for (const [index, argument] of good[name].entries()) {
      for (const wrong of junk) {
        const args = good[name].with(index, wrong);
        expect(["done", "refused"], String(wrong)).toContain(await told(name, args));
      }
      for (const key of Object.keys(argument as object).filter(() => !(argument instanceof Uint8Array))) {
        for (const wrong of junk) {
          const args = good[name].with(index, { ...(argument as object), [key]: wrong });
          expect(["done", "refused"], `${key}: ${String(wrong)}`).toContain(await told(name, args));
        }
      }
    }
  });
});
