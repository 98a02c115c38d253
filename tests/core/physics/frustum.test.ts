import { describe, expect, it } from "vitest";
import { frustum, onSheet } from "../../../src/core/physics/frustum.js";

/** A point of the cone in space, from its definition: a circle of the diameter there, at its height. */
function inSpace(topMm: number, bottomMm: number, slantMm: number, turn: number, down: number) {
  const radius = (topMm + (bottomMm - topMm) * down) / 2;
  const height = Math.sqrt(slantMm ** 2 - ((topMm - bottomMm) / 2) ** 2);
  const azimuth = 2 * Math.PI * turn;
  return [radius * Math.cos(azimuth), radius * Math.sin(azimuth), height * down] as const;
}

describe.each([
  [80, 60, 100],
  [60, 80, 100],
  [20, 90, 40],
  [90, 20, 36],
  [60, 60.001, 100],
])("a cone of %d to %d mm, %d mm along its slope", (top, bottom, slant) => {
  const cone = frustum(top, bottom, slant);

  it("unrolls to a sector whose arcs are as long as its circles", () => {
    const [least, most] = [Math.min(top, bottom), Math.max(top, bottom)];
    expect((cone.innerRadiusMm * cone.sectorAngleRad) / (Math.PI * least)).toBeCloseTo(1, 9);
    expect((cone.outerRadiusMm * cone.sectorAngleRad) / (Math.PI * most)).toBeCloseTo(1, 9);
    expect(cone.axialMm ** 2 + ((most - least) / 2) ** 2).toBeCloseTo(slant ** 2, 6);
    expect(Math.tan(cone.halfAngleRad) * cone.axialMm).toBeCloseTo((most - least) / 2, 9);
  });

  it("keeps every small length: what is near in space lies as near on the sheet", () => {
    const step = 1e-5;
    for (let k = 0; k < 200; k++) {
      const [turn, down] = [0.02 + 0.96 * ((k * 0.618) % 1), 0.02 + 0.96 * ((k * 0.377) % 1)];
      const way = 2 * Math.PI * ((k * 0.7549) % 1);
      const [turn2, down2] = [turn + step * Math.cos(way), down + step * Math.sin(way)];
      const [a, b] = [inSpace(top, bottom, slant, turn, down), inSpace(top, bottom, slant, turn2, down2)];
      const inSpaceMm = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
      const [p, q] = [onSheet(cone, turn, down), onSheet(cone, turn2, down2)];
      expect(Math.hypot(p.xMm - q.xMm, p.yMm - q.yMm) / inSpaceMm).toBeCloseTo(1, 3);
    }
  });

  it("has its middle line upright, the top above the bottom, and turns to the right", () => {
    const [above, below] = [onSheet(cone, 0.5, 0), onSheet(cone, 0.5, 1)];
    expect(above.xMm).toBeCloseTo(0, 9);
    expect(below.yMm - above.yMm).toBeCloseTo(slant, 6);
    expect(onSheet(cone, 0.51, 0.5).xMm).toBeGreaterThan(0);
  });
});

it("a cone as flat as a disc unrolls to the whole ring", () => {
  const disc = frustum(40, 100, 30.000001);
  expect(disc.sectorAngleRad).toBeCloseTo(2 * Math.PI, 6);
  expect(disc.innerRadiusMm).toBeCloseTo(20, 5);
  expect(disc.axialMm).toBeLessThan(0.01);
});
