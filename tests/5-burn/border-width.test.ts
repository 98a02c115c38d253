import { describe, expect, it } from "vitest";
import { borderWidths } from "../../src/5-burn/border-width.js";
import { halfResponseDose } from "../../src/core/material/half-response.js";
import { findMaterial } from "../../src/index.js";
import { ideal } from "./burning.js";

const spot = { alongMm: 0.1, acrossMm: 0.1 };

/**
 * Width over which the dose of `count` boxes or lines passes the half dose, by laying it down on a fine grid. Lines combine by an
 * exponent.
 */
function engravedMm(
  kind: "boxes" | "lines",
  count: number,
  pitchMm: number,
  spotMm: number,
  half: number,
  exponent = 1,
): number {
  const sigma = spotMm / 4;
  const stepMm = 0.0005;
  const reach = (count * pitchMm) / 2 + 6 * sigma;
  let marked = 0;
  for (let at = -reach; at <= reach; at += stepMm) {
    let dose = 0;
    for (let j = 0; j < count; j++) {
      const centre = (j - (count - 1) / 2) * pitchMm;
      const points = kind === "lines" ? 1 : 200;
      for (let k = 0; k < points; k++) {
        const from = centre + ((k + 0.5) / points - 0.5) * (kind === "lines" ? 0 : pitchMm);
        const z = (at - from) / sigma;
        dose +=
          (((pitchMm / points) * Math.exp((-z * z) / 2)) / (sigma * Math.sqrt(2 * Math.PI))) ** exponent;
      }
    }
    if (dose ** (1 / exponent) > half) marked += stepMm;
  }
  return marked;
}

describe("the width of a border", () => {
  it.each([
    [0.3, 0.05, 0.5],
    [0.3, 0.05, 0.25],
    [0.5, 0.02, 0.6],
    [0.08, 0.05, 0.4],
  ])(
    "of %f mm at %f mm pitch, half marked at dose %f, is that of its mark laid down",
    (widthMm, pitchMm, half) => {
      const pitch = { alongMm: pitchMm, acrossMm: pitchMm };
      const { vertical, horizontal } = borderWidths(widthMm, { pitch, spot, motion: ideal }, half, false);
      expect(vertical.markMm).toBeCloseTo(engravedMm("boxes", vertical.px, pitchMm, 0.1, half), 2);
      expect(horizontal.markMm).toBeCloseTo(engravedMm("lines", horizontal.px, pitchMm, 0.1, half), 2);
      // No other number of pixels is nearer.
      for (const [kind, { px, markMm }] of [
        ["boxes", vertical],
        ["lines", horizontal],
      ] as const) {
        for (const other of [px - 1, px + 1].filter((count) => count > 0)) {
          const otherMm = engravedMm(kind, other, pitchMm, 0.1, half);
          expect(Math.abs(otherMm - widthMm)).toBeGreaterThan(Math.abs(markMm - widthMm) - 0.002);
        }
      }
    },
  );

  it("is the width of its pixels where a wide line is half marked at half the dose", () => {
    // By symmetry: the blurred edge of a wide box passes one half at the edge.
    const { vertical } = borderWidths(
      1,
      { pitch: { alongMm: 0.05, acrossMm: 0.05 }, spot, motion: ideal },
      0.5,
      false,
    );
    expect(vertical.px).toBe(20);
    expect(vertical.markMm).toBeCloseTo(1, 6);
  });

  // 50 µs at 400 mm/s are 0.02 mm. By symmetry as above; across the lines nothing changes.
  it.each([
    [50, 21, 1.03],
    [-50, 20, 1.02],
    [-100, 19, 0.99],
  ])("takes a firing loss of %d µs into account", (firingLossUs, px, markMm) => {
    const path = { pitch: { alongMm: 0.05, acrossMm: 0.05 }, spot, motion: { ...ideal, firingLossUs } };
    const { vertical, horizontal } = borderWidths(1.012, path, 0.5, false);
    expect(vertical.px).toBe(px);
    expect(vertical.markMm).toBeCloseTo(markMm, 6);
    const unchanged = borderWidths(1.012, { ...path, motion: ideal }, 0.5, false);
    expect(horizontal).toEqual(unchanged.horizontal);
  });

  it("follows the exponent by which lines combine", () => {
    const path = { pitch: { alongMm: 0.02, acrossMm: 0.02 }, spot, motion: ideal };
    const { vertical, horizontal } = borderWidths(0.3, path, 0.3, false, 2.5);
    expect(horizontal.markMm).toBeCloseTo(engravedMm("lines", horizontal.px, 0.02, 0.1, 0.3, 2.5), 2);
    expect(Math.abs(horizontal.markMm - engravedMm("lines", horizontal.px, 0.02, 0.1, 0.3))).toBeGreaterThan(
      0.01,
    );
    expect(vertical).toEqual(borderWidths(0.3, path, 0.3, false).vertical);
  });

  it("is at least one pixel", () => {
    const { vertical, horizontal } = borderWidths(
      0.001,
      { pitch: { alongMm: 0.2, acrossMm: 0.2 }, spot, motion: ideal },
      0.3,
      false,
    );
    expect([vertical.px, horizontal.px]).toEqual([1, 1]);
  });

  it("is within a pixel for every preset", () => {
    for (const name of ["maple", "slate", "coated-steel", "black-anodised-aluminium"]) {
      const half = halfResponseDose(findMaterial(name).curve);
      for (const pitchMm of [0.1, 0.05, 0.025]) {
        const pitch = { alongMm: pitchMm, acrossMm: pitchMm };
        const { vertical, horizontal } = borderWidths(0.6, { pitch, spot, motion: ideal }, half, false);
        expect(Math.abs(vertical.markMm - 0.6)).toBeLessThanOrEqual(pitchMm / 2 + 1e-6);
        expect(Math.abs(horizontal.markMm - 0.6)).toBeLessThanOrEqual(pitchMm / 2 + 1e-6);
      }
    }
  });

  it("is as wide everywhere in an oval: the mean of vertical and horizontal parts", () => {
    const ellipse = { alongMm: 0.05, acrossMm: 0.4 };
    const pitch = { alongMm: 0.1, acrossMm: 0.1 };
    const straight = borderWidths(0.5, { pitch, spot: ellipse, motion: ideal }, 0.3, false);
    const oval = borderWidths(0.5, { pitch, spot: ellipse, motion: ideal }, 0.3, true);
    expect(straight.vertical.px).not.toBe(straight.horizontal.px);
    expect(oval.vertical.px).toBe(oval.horizontal.px);
    const offMm = (px: number) =>
      Math.abs((engravedMm("boxes", px, 0.1, 0.05, 0.3) + engravedMm("lines", px, 0.1, 0.4, 0.3)) / 2 - 0.5);
    const nearest = [1, 2, 3, 4, 5, 6, 7, 8].reduce((best, px) => (offMm(px) < offMm(best) ? px : best));
    expect(oval.vertical.px).toBe(nearest);
    const { vertical, horizontal } = oval;
    expect(vertical.markMm).toBeCloseTo(engravedMm("boxes", vertical.px, 0.1, 0.05, 0.3), 2);
    expect(horizontal.markMm).toBeCloseTo(engravedMm("lines", horizontal.px, 0.1, 0.4, 0.3), 2);
  });
});
