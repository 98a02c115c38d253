import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { burnFlatPatch, type HalftoneFunction, meanOf } from "../../src/5-burn/flat-patch.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { gradualPoints } from "../support/materials.js";
import { ideal, luminanceOf, randomBits, round, simdMemory, square } from "./burning.js";

const plan = planExposure(square(0.05), round(0.115), ideal);
const response = createResponse(gradualPoints);

describe("flat patch", () => {
  it("asks for one even fraction with a border all round, and hands back the inside", () => {
    const asked: number[][] = [];
    const halftone: HalftoneFunction = (fractions, columns, rows) => {
      asked.push([columns, rows, fractions.length, Math.min(...fractions), Math.max(...fractions)]);
      return packBitmap(randomBits(columns, rows, 0.5, 4), columns, rows);
    };
    const size = { columns: 12, rows: 7, marginPx: 5 };
    const patch = burnFlatPatch({ plan, response, memory: simdMemory }, halftone, 0.25, size, [1, 0.8]);
    expect(asked).toEqual([[22, 17, 22 * 17, 4096, 4096]]);
    expect([patch.columns, patch.rows, patch.planes.length]).toEqual([12, 7, 2]);
    const bits = randomBits(22, 17, 0.5, 4);
    [1, 0.8].forEach((factor, f) => {
      const whole = luminanceOf(plan, response, bits, 22, 17, factor);
      const inside = Array.from(
        { length: 12 * 7 },
        (_, i) => whole[(5 + Math.floor(i / 12)) * 22 + 5 + (i % 12)],
      );
      expect([...patch.planes[f]]).toEqual(inside);
    });
  });

  it("has a mean", () => {
    expect(meanOf(Float32Array.of(0.25, 0.5, 0.75, 1))).toBe(0.625);
  });
});
