import { describe, expect, it } from "vitest";
import { sharpenedRows } from "../src/2-tone/sharpen.js";
import { findHalftoneMethod, halftone } from "../src/4-halftone/halftone.js";
import type { HalftoneSettings } from "../src/4-halftone/method.js";
import { type BurnTables, compensatedRows, plainRows } from "../src/5-burn/compensate.js";
import { planExposure } from "../src/5-burn/exposure-plan.js";
import { predictBitmap } from "../src/5-burn/predict.js";
import { solidLuminance } from "../src/5-burn/solid-fill.js";
import { visualErrors } from "../src/5-burn/visual-error.js";
import { createKernelMemory } from "../src/core/kernel-memory.js";
import { createResponse } from "../src/core/material/response.js";
import { packBitmap } from "../src/core/packed-bits.js";
import { denseData, plane } from "../src/core/plane.js";
import { seededRandom } from "../src/core/random.js";
import { tabulate } from "../src/core/tabulated.js";
import { halftoneSettings } from "./support/halftone-settings.js";
import { gradualPoints } from "./support/materials.js";
import { refusalOf } from "./support/refusal.js";

/* Stages called from outside, with ordinary arrays and without a memory: they give what they give in a kernel memory. */

const [columns, rows] = [75, 40];
const pitch = { alongMm: 0.04, acrossMm: 0.05 };
const spot = { alongMm: 0.12, acrossMm: 0.1 };
const grid = { columns, rows, pitch, spot };
const motion = { speedMmPerS: 300, firingLagUs: 20, firingLossUs: 0, lineShiftMm: 0, oneWay: false };
const plan = planExposure(pitch, spot, motion);
const response = createResponse(gradualPoints);

const random = seededRandom(4);
const values = Float32Array.from({ length: columns * rows }, () => random());
const bitmap = packBitmap(
  Uint8Array.from(values, (value) => Math.round(value)),
  columns,
  rows,
);

describe("rows", () => {
  it("are sharpened", () => {
    const memory = createKernelMemory();
    const row = memory.float32(columns);
    const within = sharpenedRows(
      (y) => {
        row.set(values.subarray(y * columns, (y + 1) * columns));
        return row;
      },
      grid,
      1,
      memory,
    );
    const alone = sharpenedRows((y) => values.subarray(y * columns, (y + 1) * columns), grid, 1);
    for (let y = 0; y < rows; y++) expect(alone(y)).toEqual(within(y));
  });

  it("become burn fractions, with and without balance", () => {
    const tables: BurnTables = {
      wantedByCode: Float32Array.from({ length: 65536 }, (_, code) => 0.08 + (0.47 * code) / 65535),
      burnFor: tabulate((luminance) => 1 - (luminance - 0.08) / 0.47, 0.08, 0.55),
      bareCode: 65535,
      solidCode: 0,
    };
    const codes = Uint16Array.from(values, (value) => 65535 * value);
    const memory = createKernelMemory();
    const row = memory.uint16(columns);
    const inMemory = (y: number): Uint16Array => {
      row.set(codes.subarray(y * columns, (y + 1) * columns));
      return row;
    };
    const ordinary = (y: number): Uint16Array => codes.subarray(y * columns, (y + 1) * columns);
    const out = new Int16Array(columns);
    const line = memory.int16(columns);
    for (const [alone, within] of [
      [compensatedRows(tables, grid, ordinary), compensatedRows(tables, grid, inMemory, memory)],
      [plainRows(tables, columns, ordinary), plainRows(tables, columns, inMemory, memory)],
    ]) {
      for (let y = 0; y < rows; y++) {
        alone(y, out);
        within(y, line);
        expect(out).toEqual(line);
      }
    }
  });
});

it("a bitmap is predicted and judged", () => {
  const memory = createKernelMemory();
  const [alone] = predictBitmap({ plan, response }, bitmap, [1]);
  const [within] = predictBitmap({ plan, response, memory }, bitmap, [1]);
  expect(alone).toEqual(within);
  expect(solidLuminance({ plan, response })).toBe(solidLuminance({ plan, response, memory }));
  const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
  expect(visualErrors([alone], values, columns, { pitch, viewing })).toEqual(
    visualErrors([alone], values, columns, { pitch, viewing, memory }),
  );
});

describe("a halftone", () => {
  const { surface, ...others } = halftoneSettings({ pitch, spot });
  const settings: HalftoneSettings = others;
  const fractions = plane("burn-fraction", values, rows, columns, pitch);

  it("needs no surface, unless its method asks for it", () => {
    const method = findHalftoneMethod("floyd-steinberg");
    const alone = denseData(halftone(method, fractions, settings));
    expect(alone).toEqual(
      denseData(halftone(method, fractions, { ...settings, ...(surface && { surface }) })),
    );
  });

  it("is refused where its method needs a surface and there is none", () => {
    const refusal = refusalOf(() => halftone(findHalftoneMethod("dose-feedback"), fractions, settings));
    expect([refusal.code, refusal.option]).toEqual(["OPTION_INVALID", "surface"]);
  });
});
