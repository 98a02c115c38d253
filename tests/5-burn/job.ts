import {
  type BurnTables,
  compensatedRows,
  plainRows,
  uncompensatedBurn,
} from "../../src/5-burn/compensate.js";
import { curveFractions } from "../../src/5-burn/curve-fractions.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { reachableTones, solidLuminance } from "../../src/5-burn/solid-fill.js";
import { createTarget } from "../../src/5-burn/target.js";
import { invertToneCurve, measureToneCurve, type ToneCurve } from "../../src/5-burn/tone-curve.js";
import { createKernelMemory, type KernelForm } from "../../src/core/kernel-memory.js";
import { BRIGHTEST_CODE, CODES } from "../../src/core/luminance-codes.js";
import { createResponse, type ResponsePoints } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import type { Spot } from "../../src/core/spot.js";
import { type Tabulated, tabulate } from "../../src/core/tabulated.js";
import { halftoneOf, ideal, simdMemory } from "./burning.js";

/** One halftone × spot × pitches × material, with its tone curve measured at few and small patches, to be quick. */
export function burnJob(points: ResponsePoints, pitch: Pitch, spot: Spot, method: string, patches = 33) {
  const response = createResponse(points);
  const plan = planExposure(pitch, spot, ideal);
  const ends = { bare: response.bare, solid: solidLuminance({ plan, response, memory: simdMemory }) };
  const range = reachableTones({ plan, response, memory: simdMemory });
  const target = createTarget("lightness", range);
  const halftone = halftoneOf(method, pitch, spot);
  const size = { columns: 64, rows: 64, marginPx: 24 };
  const curve: ToneCurve = measureToneCurve(
    { plan, response, memory: simdMemory },
    halftone,
    curveFractions(response, patches),
    size,
    ends,
  );
  const burnFor: Tabulated = tabulate(invertToneCurve(curve), range.darkest, range.lightest);
  const plainBurnFor = tabulate(uncompensatedBurn(ends.bare, ends.solid), range.darkest, range.lightest);
  const { darkens } = response;
  const wantedByCode = Float32Array.from({ length: CODES }, (_, code) => target(code / BRIGHTEST_CODE));
  const tables: BurnTables = {
    wantedByCode,
    burnFor,
    bareCode: darkens ? BRIGHTEST_CODE : 0,
    solidCode: darkens ? 0 : BRIGHTEST_CODE,
  };

  /** Burn fractions of a plane of linear luminance, as integer codes. */
  function fractionsOf(
    luminance: Float32Array,
    columns: number,
    rows: number,
    { compensated = true, form = "simd" }: { compensated?: boolean; form?: KernelForm } = {},
  ): Int16Array {
    const memory = createKernelMemory(form);
    const row = memory.uint16(columns);
    const codes = (y: number): Uint16Array => {
      for (let x = 0; x < columns; x++) row[x] = Math.round(luminance[y * columns + x] * BRIGHTEST_CODE);
      return row;
    };
    const fractions = compensated
      ? compensatedRows(tables, { columns, rows, pitch, spot }, codes, memory)
      : plainRows({ ...tables, burnFor: plainBurnFor }, columns, codes, memory);
    const out = new Int16Array(columns * rows);
    const line = memory.int16(columns);
    for (let y = 0; y < rows; y++) {
      fractions(y, line);
      out.set(line, y * columns);
    }
    return out;
  }
  const bits = (luminance: Float32Array, columns: number, rows: number, compensated = true) =>
    unpackBitmap(halftone(fractionsOf(luminance, columns, rows, { compensated }), columns, rows));

  return { response, plan, ends, range, target, halftone, curve, burnFor, tables, fractionsOf, bits };
}
