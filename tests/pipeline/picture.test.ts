import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { predictBitmap } from "../../src/5-burn/predict.js";
import type { SpotpitchError } from "../../src/core/errors.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { bytesPerPackedRow, packRow } from "../../src/core/packed-bits.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { denseData } from "../../src/core/plane.js";
import { findMaterial, type PreparedPiece, type PrepareOptions } from "../../src/index.js";
import { resolveOptions } from "../../src/options/options.js";
import { prepare } from "../support/prepare.js";
import { photographPath } from "./photograph.js";

/** Half as large as it is, which takes half the time. */
const photo = await sharp(await readFile(photographPath("nagasaki-boats")))
  .resize(512)
  .jpeg({ quality: 95 })
  .toBuffer();
const { width: columns, height: rows } = await sharp(photo).metadata();

const base: PrepareOptions = { widthMm: 18, linesPerInch: 254, method: "floyd-steinberg", material: "maple" };
const bare: PrepareOptions = { ...base, bitmapOnly: true };

const sameBytes = (a: Uint8Array | undefined, b: Uint8Array | undefined): boolean =>
  Buffer.from(a ?? []).equals(b ?? new Uint8Array(0));

/** An 8-bit grey picture whose value is a function of the place 0..1. */
function grey(width: number, height: number, value: (u: number, v: number) => number) {
  const bytes = Uint8Array.from({ length: width * height }, (_, i) =>
    value(((i % width) + 0.5) / width, (Math.floor(i / width) + 0.5) / height),
  );
  return sharp(bytes, { raw: { width, height, channels: 1 } });
}

/** White in the middle, black outside, soft between. */
const softDisc = (u: number, v: number): number =>
  Math.round(255 * Math.min(1, Math.max(0, (0.45 - Math.hypot(u - 0.5, v - 0.5)) / 0.15)));

describe("a cropped photo", () => {
  it("gives the bytes of a file that was cut to the same pixels (sharp)", async () => {
    const cut = { left: 67, top: 45, width: 250, height: 305 };
    const file = await sharp(photo).extract(cut).png().toBuffer();
    // The file must decode to the photo's own pixels, or nothing could be the same.
    const crop = { leftPx: cut.left, topPx: cut.top, widthPx: cut.width, heightPx: cut.height };
    for (const more of [
      { lift: 1, localContrast: 1, sharpen: 1 },
      { mirror: true, heightMm: 10 },
    ]) {
      const [cropped, whole] = await Promise.all([
        prepare(photo, { ...base, ...more, crop }),
        prepare(file, { ...base, ...more }),
      ]);
      expect(sameBytes(cropped.burnFile, whole.burnFile)).toBe(true);
      expect(sameBytes(cropped.previewFile, whole.previewFile)).toBe(true);
      expect(cropped.report.input.effectivePxPerMm).toBe(whole.report.input.effectivePxPerMm);
      expect(cropped.report.job.crop).toEqual(crop);
    }
  });

  it("counts pixels as they are seen upright, and the density by what was kept", async () => {
    // Exif orientation 6: the file's rows are the picture's columns from the right.
    const turned = await sharp(photo).rotate(-90).withMetadata({ orientation: 6 }).png().toBuffer();
    const crop = { leftPercent: 25, topPercent: 0, widthPercent: 50, heightPercent: 100 };
    const [upright, lying] = await Promise.all(
      [photo, turned].map((file) => prepare(file, { ...bare, crop })),
    );
    expect(sameBytes(upright.burnFile, lying.burnFile)).toBe(true);
    expect(upright.report.job.crop).toEqual({ leftPx: 128, topPx: 0, widthPx: 256, heightPx: rows });
    expect(upright.report.input).toMatchObject({ widthPx: columns, heightPx: rows });
    expect(upright.report.input.effectivePxPerMm).toBeCloseTo(256 / 18, 1);
  });

  it("warns where little is left", async () => {
    const crop = { leftPercent: 40, topPercent: 40, widthPercent: 5, heightPercent: 5 };
    const codes = async (more: PrepareOptions) =>
      (await prepare(photo, { ...bare, ...more })).report.warnings.map(({ code }) => code);
    expect(await codes({ crop })).toContain("photo-coarse-for-size");
    expect(await codes({})).not.toContain("photo-coarse-for-size");
  });

  it("cuts drawings in percent, as fine as the grid, and refuses pixels of theirs", async () => {
    const drawing = Buffer.from(
      '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><rect width="20" height="40"/></svg>',
    );
    const crop = { leftPercent: 25, topPercent: 25, widthPercent: 50, heightPercent: 50 };
    const { report } = await prepare(drawing, { ...bare, autoTone: false, crop });
    expect(report.input.effectivePxPerMm).toBeGreaterThanOrEqual(10);
    expect(report.coverage.burnFraction).toBeCloseTo(0.5, 2);
    const inPx = prepare(drawing, { ...bare, crop: { leftPx: 0, topPx: 0, widthPx: 9, heightPx: 9 } });
    await expect(inPx).rejects.toMatchObject({ code: "OPTION_CONFLICT", option: "crop" });
  });
});

describe("a focus", () => {
  it("shows what a crop by hand would", async () => {
    // The photo is 512 × 410: a square shows 410 columns, about 80 % of the width from 102 on.
    // A plain threshold, so that pixels near the cut do not affect others.
    const square: PrepareOptions = { ...bare, heightMm: 18, autoTone: false, method: "threshold" };
    const right = { leftPx: columns - rows, topPx: 0, widthPx: rows, heightPx: rows };
    const [focused, cropped, middle] = await Promise.all([
      prepare(photo, { ...square, focus: { xPercent: 80, yPercent: 50 } }),
      prepare(photo, { ...square, crop: right }),
      prepare(photo, square),
    ]);
    const side = focused.report.job.columns;
    const [a, b, c] = [focused, cropped, middle].map(({ bitmap }) => denseData(bitmap));
    expect(a.some((bit, i) => bit !== c[i])).toBe(true);
    // All but the leftmost pixels, for which the filter reaches past the cut.
    for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) expect(i % side).toBeLessThan(4);
    expect(focused.report.job.focus).toEqual({ xPx: 0.8 * columns, yPx: 0.5 * rows });
  });
});

describe("a mask", () => {
  const mask = grey(columns, rows, softDisc).toColourspace("b-w").png().toBuffer();
  /** The photo with the mask as its alpha channel. */
  const withAlpha = async () =>
    sharp(await sharp(photo).removeAlpha().png().toBuffer())
      .joinChannel(await mask)
      .png()
      .toBuffer();

  it.each<[string, PrepareOptions]>([
    ["with lift, sharpening and local contrast", { lift: 1, sharpen: 1, localContrast: 1 }],
    [
      "on slate, mirrored and cropped",
      {
        ...{ material: "slate", mirror: true },
        crop: { leftPercent: 20, topPercent: 10, widthPercent: 50, heightPercent: 80 },
      },
    ],
  ])("gives the bytes of a picture with that alpha channel: %s", async (_, more) => {
    const [masked, alpha] = await Promise.all([
      prepare(photo, { ...base, ...more, mask: await mask }),
      prepare(await withAlpha(), { ...base, ...more }),
    ]);
    expect(sameBytes(masked.burnFile, alpha.burnFile)).toBe(true);
    expect(sameBytes(masked.previewFile, alpha.previewFile)).toBe(true);
    expect(masked.report.job.mask).toBe("");
    expect(alpha.report.job.mask).toBeUndefined();
  });

  it("of white changes nothing but the report, of black leaves nothing to burn", async () => {
    const [white, black, none] = await Promise.all([
      prepare(photo, { ...bare, mask: { bytes: await plain(255), fileName: "white.png" } }),
      prepare(photo, { ...bare, mask: await plain(0) }),
      prepare(photo, bare),
    ]);
    expect(sameBytes(white.burnFile, none.burnFile)).toBe(true);
    expect(white.report.job.mask).toBe("white.png");
    expect(black.report.coverage.burnFraction).toBe(0);
  });
  const plain = (value: number) =>
    grey(columns, rows, () => value)
      .png()
      .toBuffer();

  it("multiplies with an alpha channel that is there already, and counts its own transparent parts as black", async () => {
    const half = (u: number) => (u < 0.5 ? 255 : 0);
    const left = await grey(columns, rows, half).toColourspace("b-w").png().toBuffer();
    const cut = await sharp(await sharp(photo).removeAlpha().png().toBuffer())
      .joinChannel(left)
      .png()
      .toBuffer();
    const right = await grey(columns, rows, (u) => 255 - half(u))
      .png()
      .toBuffer();
    expect((await prepare(cut, { ...bare, mask: right })).report.coverage.burnFraction).toBe(0);
    const white = grey(columns, rows, () => 255).toColourspace("srgb");
    const clear = await sharp(await white.png().toBuffer())
      .joinChannel(left)
      .png()
      .toBuffer();
    const [byClear, byGrey] = await Promise.all(
      [clear, left].map((bytes) => prepare(photo, { ...bare, mask: bytes })),
    );
    expect(sameBytes(byClear.burnFile, byGrey.burnFile)).toBe(true);
  });

  it("may be of any size of the photo's shape", async () => {
    const [full, small] = await Promise.all([
      prepare(photo, { ...bare, mask: await mask }),
      prepare(photo, { ...bare, mask: await grey(256, 205, softDisc).png().toBuffer() }),
    ]);
    const difference = full.report.coverage.burnFraction - small.report.coverage.burnFraction;
    expect(Math.abs(difference)).toBeLessThan(0.002);
  });

  it.each([
    [819, 1024],
    [500, 500],
    [1024, 800],
  ])("of another shape is refused with both sizes: %i × %i", async (width, height) => {
    const other = await grey(width, height, () => 255)
      .png()
      .toBuffer();
    const refused = prepare(photo, { ...bare, mask: { bytes: other, fileName: "other.png" } });
    await expect(refused).rejects.toMatchObject({
      code: "INPUT_MASK_SHAPE",
      message: expect.stringMatching(new RegExp(`"other.png".*${width} × ${height}.*${columns} × ${rows}`)),
    });
  });

  it("is read with a photo's safety", async () => {
    const whole = await mask;
    const refusals: [Uint8Array, string][] = [
      [new Uint8Array(0), "INPUT_EMPTY"],
      [whole.subarray(0, whole.length / 2), "INPUT_DAMAGED"],
      [Buffer.from("not a picture"), "INPUT_NOT_AN_IMAGE"],
    ];
    for (const [bytes, code] of refusals) {
      const refused = prepare(photo, { ...bare, mask: bytes });
      await expect(refused).rejects.toMatchObject({ code, message: expect.stringMatching(/^The mask/) });
    }
  });
});

/** Bits and the depth of each pixel inside the oval of the piece, as a share: 1 in the middle, 0 on its edge. */
function eachPixel(
  { bitmap, report }: PreparedPiece,
  visit: (bit: number, u: number, v: number) => void,
): void {
  const bits = denseData(bitmap);
  const { columns: across, rows: down } = report.job;
  for (let i = 0; i < bits.length; i++) {
    visit(bits[i], (2 * ((i % across) + 0.5)) / across - 1, (2 * (Math.floor(i / across) + 0.5)) / down - 1);
  }
}

describe("an oval", () => {
  const dark = grey(300, 400, () => 60)
    .png()
    .toBuffer();
  /** The first of each family. */
  const methods = halftoneMethods
    .filter(({ pitchRatio }) => pitchRatio === undefined)
    .filter(({ family }, k, all) => all.findIndex((each) => each.family === family) === k)
    .map(({ id }) => id);

  it.each(methods)("is bare outside, without a stray dot, with a solid border, by %s", async (method) => {
    for (const material of ["maple", "slate"]) {
      const job: PrepareOptions = { ...bare, method, material, widthMm: 12, autoTone: false, sharpen: 1 };
      const borderMm = 0.5;
      const piece = await prepare(await dark, {
        ...job,
        oval: true,
        vignetteMm: 2,
        borderMm,
        borderGapMm: 0.4,
      });
      const { border } = piece.report.job;
      const burnedMm = ((border?.uprightPx ?? 0) + (border?.levelPx ?? 0)) * 0.05;
      let [outside, holes, gap] = [0, 0, 0];
      eachPixel(piece, (bit, u, v) => {
        const radius = Math.hypot(u, v);
        if (radius >= 1) outside += bit;
        // Along the axes, where the depth is known: half a width of 6 mm, half a height of 8 mm.
        const depthMm =
          Math.abs(v) < 0.01 ? 6 * (1 - Math.abs(u)) : Math.abs(u) < 0.01 ? 8 * (1 - Math.abs(v)) : -1;
        if (depthMm > 0.01 && depthMm < burnedMm - 0.1) holes += 1 - bit;
        if (depthMm > burnedMm + 0.1 && depthMm < burnedMm + 0.35) gap += bit;
      });
      expect([outside, holes, gap]).toEqual([0, 0, 0]);
    }
  });

  it("of a solid picture burns π/4 of its box", async () => {
    const black = await grey(300, 400, () => 0)
      .png()
      .toBuffer();
    const { report } = await prepare(black, { ...bare, oval: true, autoTone: false });
    expect(report.coverage.burnFraction).toBeCloseTo(Math.PI / 4, 3);
    expect(report.job.oval).toBe(true);
  });

  it.each(["maple", "slate"])("fades evenly in the predicted lightness of %s", async (material) => {
    const flat = await grey(400, 400, () => 120)
      .png()
      .toBuffer();
    for (const toneMap of ["lightness", "luminance"] as const) {
      const job: PrepareOptions = {
        ...bare,
        material,
        widthMm: 40,
        linesPerInch: 508,
        toneMap,
        autoTone: false,
      };
      const piece = await prepare(flat, { ...job, vignetteMm: 15 });
      // Lightness of strips 1 mm wide along the left side, midway up, whose middles lie 1, 3.5, 6, … mm from it.
      const lightness = stripLightness(piece, job);
      const strips = Array.from({ length: 7 }, (_, k) => lightness(0.5 + 2.5 * k));
      const bareLightness = lightnessFromLuminance(findMaterial(material).curve.bare);
      const whole = strips[6] - bareLightness;
      expect(Math.abs(whole)).toBeGreaterThan(5);
      for (const [k, strip] of strips.slice(0, 6).entries()) {
        expect((strip - bareLightness) / whole).toBeCloseTo((1 + 2.5 * k) / 15, 1);
      }
    }
  });
});

/** Mean predicted lightness of a strip 1 mm wide and 7 mm high that begins so far from the left, midway up. */
function stripLightness({ bitmap, report }: PreparedPiece, job: PrepareOptions) {
  const { columns: across, rows: down, pitchAlongMm } = report.job;
  const stride = bytesPerPackedRow(across);
  const bytes = new Uint8Array(stride * down);
  const bits = denseData(bitmap);
  for (let y = 0; y < down; y++) packRow(bits, y * across, across, bytes, y * stride);
  const { pitch, spot, motion, material } = resolveOptions(job);
  const memory = createKernelMemory();
  const packed = { columns: across, rows: down, levels: 2, stride, bytes };
  const [predicted] = predictBitmap(
    { plan: planExposure(pitch, spot, motion, { material }), response: material.curve, memory },
    packed,
    [1],
  );
  return (fromMm: number): number => {
    let [sum, count] = [0, 0];
    for (let y = Math.round(0.41 * down); y < 0.59 * down; y++) {
      for (let x = Math.round(fromMm / pitchAlongMm); x < (fromMm + 1) / pitchAlongMm; x++) {
        sum += predicted[y * across + x];
        count++;
      }
    }
    return lightnessFromLuminance(sum / count);
  };
}

describe("a border", () => {
  it.each(["green-noise", "dot-diffusion", "ostromoukhov", "atkinson"])(
    "is solid against the picture itself, by %s",
    async (method) => {
      const job: PrepareOptions = { ...bare, widthMm: 30, linesPerInch: 508, method, compensate: false };
      const { bitmap, report } = await prepare(photo, { ...job, borderMm: 0.4 });
      const { columns: across, rows: down, border } = report.job;
      const [upright, level] = [border?.uprightPx ?? 0, border?.levelPx ?? 0];
      expect(Math.min(upright, level)).toBeGreaterThan(4);
      let [holes, inside] = [0, 0];
      denseData(bitmap).forEach((bit, i) => {
        const [x, y] = [i % across, Math.floor(i / across)];
        const inBorder = Math.min(x, across - 1 - x) < upright || Math.min(y, down - 1 - y) < level;
        if (inBorder) holes += 1 - bit;
        else inside += bit;
      });
      expect(holes).toBe(0);
      // And the picture in it is as dark as without.
      const without = (await prepare(photo, job)).report.coverage.burnFraction;
      const area = (across - 2 * upright) * (down - 2 * level);
      expect(Math.abs(inside / area - without)).toBeLessThan(0.02);
    },
  );
});

describe("the report", () => {
  it("says nothing of what was not asked for", async () => {
    const { report } = await prepare(photo, bare);
    for (const key of ["crop", "focus", "mask", "oval", "vignetteMm", "border", "borderGapMm"]) {
      expect(report.job).not.toHaveProperty(key);
    }
  });

  it("says what was done", async () => {
    const asked = { oval: true, vignetteMm: 3, borderMm: 0.5, borderGapMm: 1 };
    const { job } = (await prepare(photo, { ...bare, ...asked })).report;
    expect(job).toMatchObject({ oval: true, vignetteMm: 3, borderGapMm: 1, border: { widthMm: 0.5 } });
    expect(job.border?.uprightMarkMm).toBeGreaterThan(0.4);
    expect(job.border?.uprightMarkMm).toBeLessThan(0.6);
  });

  it.each([
    [{ vignetteMm: 20 }, "vignetteMm"],
    [{ borderMm: 12 }, "borderMm"],
    [{ borderMm: 1, borderGapMm: 11 }, "borderGapMm"],
  ])("is not reached where nothing is left of the picture: %j", async (more, option) => {
    await expect(prepare(photo, { ...bare, ...more })).rejects.toMatchObject({
      code: "OPTION_TOO_LARGE",
      option,
    });
  });
});

describe("solid artwork", () => {
  const sheet = (inner: string) =>
    Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">${inner}</svg>`);
  const solid: PrepareOptions = { ...bare, kind: "solid", method: "auto", widthMm: 20, linesPerInch: 508 };

  it("is cropped like any picture", async () => {
    const drawing = sheet(
      '<rect width="40" height="40" fill="white"/><rect x="10" y="10" width="10" height="20"/>',
    );
    const crop = { leftPercent: 12.5, topPercent: 0, widthPercent: 50, heightPercent: 100 };
    const { report } = await prepare(drawing, { ...solid, crop });
    // A bar of 10 × 20 in 20 × 40; the mark of its edges, 60 of 20 × 40 mm round it, grows by less than 0.03 mm.
    expect(Math.abs(report.coverage.burnFraction - 0.25)).toBeLessThan((60 * 0.03) / (20 * 40));
    expect(report.job.heightMm).toBeCloseTo(40, 1);
  });

  it("is cut by a mask and an oval, with a border round it, and cannot fade", async () => {
    const drawing = sheet('<rect width="40" height="40" fill="white"/><rect width="20" height="40"/>');
    const right = await grey(200, 200, (u) => (u > 0.25 ? 255 : 0))
      .png()
      .toBuffer();
    // Black from 10 to 20 mm of 40. Its vertical edges are less than 0.03 mm off, and those of the mask within a pixel.
    const masked = await prepare(drawing, { ...solid, mask: right });
    expect(Math.abs(masked.report.coverage.burnFraction - 0.25)).toBeLessThan(0.005);
    const half = await prepare(drawing, { ...solid, oval: true });
    // Less what the straight edge of 20 mm is moved inwards by, under 0.03 mm.
    expect(Math.abs(half.report.coverage.burnFraction - Math.PI / 8)).toBeLessThan((20 * 0.03) / 400 + 0.001);
    const ringed = await prepare(drawing, { ...solid, oval: true, borderMm: 1 });
    // A ring of π (10² − 9²) mm² and half a disc of π 9², of 400.
    expect(Math.abs(ringed.report.coverage.burnFraction - (Math.PI * 59.5) / 400)).toBeLessThan(0.005);
    await expect(prepare(drawing, { ...solid, vignetteMm: 2 })).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      option: "vignetteMm",
    });
  });
});

describe("places that the photo does not have", () => {
  const whole = { widthMm: 20, linesPerInch: 254, method: "floyd-steinberg", bitmapOnly: true } as const;
  const attempt = async (options: PrepareOptions) => {
    let curvesAsked = 0;
    const curves = {
      get: () => {
        curvesAsked++;
        return undefined;
      },
      set: () => {},
    };
    // 90 × 60 pixels, seen upright as 60 × 90.
    const lying = sharp({ create: { width: 90, height: 60, channels: 3, background: "#777" } });
    const file = await lying.jpeg().withMetadata({ orientation: 6 }).toBuffer();
    const code = await prepare(file, { ...whole, ...options }, { threads: 1, curves }).then(
      () => "prepared",
      (error: SpotpitchError) => error.code,
    );
    return [code, curvesAsked];
  };

  it("are refused before a tone curve is measured", async () => {
    const crop = { leftPx: 0, topPx: 0, widthPx: 61, heightPx: 60 };
    expect(await attempt({ crop })).toEqual(["OPTION_OUTSIDE_PHOTO", 0]);
    expect(await attempt({ focus: { xPx: 70, yPx: 10 } })).toEqual(["OPTION_OUTSIDE_PHOTO", 0]);
    expect(await attempt({ borderMm: 10 })).toEqual(["OPTION_TOO_LARGE", 0]);
  });

  it("are those of the photo as it is seen upright", async () => {
    const crop = { leftPx: 0, topPx: 0, widthPx: 60, heightPx: 90 };
    expect(await attempt({ crop })).toEqual(["prepared", 1]);
  });
});
