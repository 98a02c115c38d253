import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { madePhoto } from "../../../src/1-photo/made-photo.js";
import { halftoneMethods } from "../../../src/4-halftone/catalogue.js";
import { halftoneCodes } from "../../../src/4-halftone/halftone.js";
import { createKernelMemory, type KernelForm } from "../../../src/core/kernel-memory.js";
import { denseData } from "../../../src/core/plane.js";
import { planeOfRows } from "../../../src/core/plane-rows.js";
import { seededRandom } from "../../../src/core/random.js";
import { lookUp, tabulate } from "../../../src/core/tabulated.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { burnRows } from "../../../src/pipeline/burn/burn-rule.js";
import { predictedRows } from "../../../src/pipeline/burn/predicted-rows.js";
import { plainBurn } from "../../../src/pipeline/burn-model.js";
import { createJob, halftoneSettings } from "../../../src/pipeline/job.js";
import { judgePiece } from "../../../src/pipeline/judge/judge-piece.js";
import { luminanceRows, photoOnGrid } from "../../../src/pipeline/photo/luminance.js";
import { frameOf } from "../../../src/pipeline/photo/piece-size.js";
import { prepare } from "../../support/prepare.js";

/*
 * A ring has no first column: a picture rolled round by some columns must give the same work, rolled by as many. Whatever
 * treated the seam otherwise than any other place would show here; a flat piece is the check that it would.
 */

/** Smooth blobs and noise, so that every filter has an effect everywhere. */
function picture(columns: number, rows: number): Uint16Array {
  const random = seededRandom(3);
  const codes = new Uint16Array(columns * rows);
  for (let i = 0; i < codes.length; i++) {
    const [x, y] = [i % columns, Math.floor(i / columns)];
    const waves = Math.sin(0.11 * y + 9 * Math.sin((2 * Math.PI * x) / columns)) + Math.sin(x / 7);
    codes[i] = 32768 + 9000 * waves + 12000 * (random() - 0.5);
  }
  return codes;
}

function rolled<Data extends Uint16Array | Int16Array | Float32Array>(
  data: Data,
  columns: number,
  by: number,
): Data {
  const out = data.slice() as Data;
  for (let i = 0; i < out.length; i++) {
    const x = i % columns;
    out[i] = data[i - x + ((x - by + columns) % columns)];
  }
  return out;
}

/** Once round 12 mm at a pitch of about 0.1 mm: 384 columns. */
const ROUND: PrepareOptions = { aroundMm: 12.2231, linesPerInch: 254, spotMm: 0.23, autoTone: false };
const RING = 384;

const SETTINGS: readonly [string, PrepareOptions, number][] = [
  ["enlarged", {}, 96],
  ["reduced", {}, 1152],
  ["pixel for pixel", {}, RING],
  ["with lift", { lift: 1 }, 96],
  ["with local contrast", { localContrast: 1 }, 96],
  ["with sharpening", { sharpen: 1.5 }, 96],
  ["with all three, mirrored", { lift: 1, localContrast: 1, sharpen: 1, mirror: true }, 96],
  ["with a wide spot", { sharpen: 1, spotMm: 1.3 }, 96],
];

function work(options: PrepareOptions, codes: Uint16Array, columns: number, form: KernelForm) {
  const rows = codes.length / columns;
  const resolved = resolveOptions(options);
  const memory = createKernelMemory(form);
  const job = createJob(resolved, memory);
  const photo = madePhoto(codes, rows, columns);
  const frame = frameOf(photo, resolved);
  const onGrid = photoOnGrid(photo, frame, resolved);
  const luminance = luminanceRows(job, onGrid);
  const grid = new Uint16Array(frame.columns * frame.rows);
  for (let y = 0; y < frame.rows; y++) grid.set(luminance(y), y * frame.columns);
  const { model } = job;
  // Bent, or texture would have nothing to balance.
  const straight = plainBurn(model);
  const { darkest, lightest } = model.range;
  const burnFor = tabulate((luminance) => lookUp(straight, luminance) ** 2, darkest, lightest);
  const rule = { burnFor, compensated: true, balanced: true };
  const fractionsOf = burnRows(job, rule, luminanceRows(job, onGrid), frame);
  const fractions = new Int16Array(grid.length);
  const row = memory.int16(frame.columns);
  for (let y = 0; y < frame.rows; y++) {
    fractionsOf(y, row);
    fractions.set(row, y * frame.columns);
  }
  return { grid, fractions, frame, resolved, job };
}

const furthest = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Array.from(a).reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

describe.each(SETTINGS)("a picture %s", (_, more, columns) => {
  const rows = Math.round(columns / 4);
  const codes = picture(columns, rows);
  const by = columns / 2;
  const byOnGrid = RING / 2;

  it("gives the same luminance and burn fractions wherever it is cut open", () => {
    const straight = work({ ...ROUND, ...more }, codes, columns, "simd");
    const turned = work({ ...ROUND, ...more }, rolled(codes, columns, by), columns, "simd");
    expect(straight.frame.columns).toBe(RING);
    // Rounding may differ by one, of 65535 and of 16384.
    expect(furthest(turned.grid, rolled(straight.grid, RING, byOnGrid))).toBeLessThanOrEqual(1);
    expect(furthest(turned.fractions, rolled(straight.fractions, RING, byOnGrid))).toBeLessThanOrEqual(1);
  });

  it("does not where it is flat", () => {
    const flat = { ...ROUND, aroundMm: undefined, widthMm: 38.4, ...more };
    const straight = work(flat, codes, columns, "simd");
    const turned = work(flat, rolled(codes, columns, by), columns, "simd");
    expect(straight.frame.columns).toBe(RING);
    expect(furthest(turned.fractions, rolled(straight.fractions, RING, byOnGrid))).toBeGreaterThan(30);
  });

  it("gives the same bytes in both forms of the loops", () => {
    const [simd, plain] = (["simd", "plain"] as const).map((form) =>
      work({ ...ROUND, ...more }, codes, columns, form),
    );
    expect(plain.grid).toEqual(simd.grid);
    expect(plain.fractions).toEqual(simd.fractions);
  });
});

describe("the predicted piece", () => {
  const codes = picture(RING, 60);
  const method = halftoneMethods.find(({ id }) => id === "blue-noise") ?? halftoneMethods[0];

  const bitmapOf = ({ fractions, frame, job }: ReturnType<typeof work>) =>
    halftoneCodes(
      method,
      { codes: fractions, columns: frame.columns, rows: frame.rows },
      halftoneSettings(job),
    );

  const MOTIONS: readonly [string, PrepareOptions][] = [
    ["at once", {}],
    ["with a lag", { firingLagUs: 400 }],
    ["with a lag that is summed by recursion", { firingLagUs: 3000 }],
    ["in power levels", { levels: 5 }],
    ["in power levels, with a lag that is summed by recursion", { levels: 5, firingLagUs: 3000 }],
    ["with bursts that begin late", { firingLossUs: 200, lineShiftMm: 0.1 }],
    ["with bursts that end late, and a long lag", { firingLossUs: -200, firingLagUs: 3000 }],
    ["in power levels, with bursts that begin late", { levels: 5, firingLossUs: 150 }],
    ["with lines of the way back off", { lineShiftMm: 0.4, firingLagUs: 200 }],
  ];

  it.each(MOTIONS)("is the same wherever the bitmap is cut open: %s", (_, more) => {
    const made = work({ ...ROUND, ...more }, codes, RING, "simd");
    const bitmap = bitmapOf(made);
    const predict = (piece: typeof bitmap, frame = made.frame) =>
      planeOfRows(predictedRows(made.job, piece, frame), RING, bitmap.rows);
    const byBytes = bitmap.levels === 2 ? 16 : 128;
    const byPx = 128;
    const turnedBytes = bitmap.bytes.slice();
    for (let y = 0; y < bitmap.rows; y++) {
      for (let i = 0; i < bitmap.stride; i++) {
        const from = (i - byBytes + bitmap.stride) % bitmap.stride;
        turnedBytes[y * bitmap.stride + i] = bitmap.bytes[y * bitmap.stride + from];
      }
    }
    const turned = { ...bitmap, bytes: turnedBytes };
    const wanted = rolled(predict(bitmap), RING, byPx);
    expect(furthest(predict(turned), wanted)).toBeLessThan(1e-5);
    const { circles, ...flat } = made.frame;
    expect(circles?.ring).toBe(true);
    expect(furthest(predict(turned, flat), rolled(predict(bitmap, flat), RING, byPx))).toBeGreaterThan(0.02);
  });

  it.each([2, 5])("is judged alike wherever it is cut open, %i levels", (levels) => {
    const made = work({ ...ROUND, doseSpread: 0.1, levels }, codes, RING, "simd");
    const { grid, job, frame } = made;
    const bitmap = bitmapOf(made);
    const judge = (codesHere: Uint16Array, bytes: Uint8Array) => {
      const codes = (y: number) => codesHere.subarray(y * RING, (y + 1) * RING);
      return judgePiece(job, { frame, bitmap: { ...bitmap, bytes }, codes }, method);
    };
    const byBytes = levels === 2 ? 16 : 128;
    const turnedBytes = bitmap.bytes.map((_, at) => {
      const i = at % bitmap.stride;
      return bitmap.bytes[at - i + ((i - byBytes + bitmap.stride) % bitmap.stride)];
    });
    const straight = judge(grid, bitmap.bytes);
    const turned = judge(rolled(grid, RING, 128), turnedBytes);
    // Tiles and halos are at other places. The remaining difference is the eye's faint glare at large distances.
    expect(turned.nominal.rms / straight.nominal.rms).toBeCloseTo(1, 2);
    expect(turned.nominal.bias).toBeCloseTo(straight.nominal.bias, 2);
  });
});

it("a solid disc has the same edges across the seam as elsewhere", async () => {
  // 224 columns, half of which are a whole number of the seven columns after which edges take turns to be rounded.
  const options: PrepareOptions = { aroundMm: 7.13, heightMm: 10, linesPerInch: 254, kind: "solid" };
  const [width, height] = [896, 400];
  const drawn = async (...centres: number[]) => {
    const discs = centres.map((x) => `<circle cx="${x}" cy="200" r="120"/>`).join("");
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#fff"/>${discs}</svg>`;
    return prepare(await sharp(Buffer.from(svg)).png().toBuffer(), { ...options, bitmapOnly: true });
  };
  const inFront = await drawn(width / 2);
  const behind = await drawn(0, width);
  const { columns } = inFront.report.job;
  expect(columns).toBe(224);
  const bits = Int16Array.from(denseData(inFront.bitmap));
  expect(bits.reduce((sum, bit) => sum + bit, 0)).toBeGreaterThan(2000);
  expect(Int16Array.from(denseData(behind.bitmap))).toEqual(rolled(bits, columns, columns / 2));
  expect(behind.report.edges).toEqual(inFront.report.edges);
});
