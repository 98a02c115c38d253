import { describe, expect, it } from "vitest";
import { coneView } from "../../../src/6-report/pictures/cone-view.js";
import { frustum, onSheet } from "../../../src/core/physics/frustum.js";

const [COLUMNS, ROWS] = [900, 300];

describe.each([
  [80, 60, 90],
  [40, 90, 50],
  [100, 10, 50],
])("the view of a cone of %d to %d mm, %d mm along its slope", (top, bottom, slant) => {
  const cone = frustum(top, bottom, slant);
  const centre = onSheet(cone, 0.55, 0.5);
  const radiusMm = slant / 4;
  const picture = Float32Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const { xMm, yMm } = onSheet(
      cone,
      ((i % COLUMNS) + 0.5) / COLUMNS,
      (Math.floor(i / COLUMNS) + 0.5) / ROWS,
    );
    return Math.hypot(xMm - centre.xMm, yMm - centre.yMm) < radiusMm ? 0.1 : 0.8;
  });
  const view = coneView(
    { values: picture, columns: COLUMNS, rows: ROWS },
    { cone, angleRad: cone.sectorAngleRad },
    4,
  );

  it("shows a disc of the sheet as a disc, as large as it is, where it is", () => {
    let [count, sumX, sumY] = [0, 0, 0];
    view.luminance.forEach((luminance, i) => {
      if (!(luminance < 0.45)) return;
      count++;
      sumX += (i % view.columns) + 0.5;
      sumY += Math.floor(i / view.columns) + 0.5;
    });
    const [x, y] = view.place(0.55, 0.5);
    expect(Math.abs(count / (Math.PI * (radiusMm * view.pxPerMm) ** 2) - 1)).toBeLessThan(0.02);
    expect(sumX / count).toBeCloseTo(x, 0);
    expect(sumY / count).toBeCloseTo(y, 0);
    const furthest = Math.max(
      ...Array.from(view.luminance.keys())
        .filter((i) => view.luminance[i] < 0.45)
        .map((i) => Math.hypot((i % view.columns) + 0.5 - x, Math.floor(i / view.columns) + 0.5 - y)),
    );
    expect(furthest).toBeLessThan(radiusMm * view.pxPerMm + 2);
  });

  it("shows a part of the surface alone, with the picture of that part", () => {
    // A third of the turn about the middle line: in the picture of the whole, from 1/3 to 2/3 of its width.
    const third = COLUMNS / 3;
    const values = Float32Array.from({ length: third * ROWS }, (_, i) => {
      return picture[Math.floor(i / third) * COLUMNS + third + (i % third)];
    });
    const part = coneView(
      { values, columns: third, rows: ROWS },
      { cone, angleRad: cone.sectorAngleRad / 3 },
      view.pxPerMm,
    );
    const inPart = part.luminance.filter((luminance) => !Number.isNaN(luminance)).length;
    const areaMm2 = Math.PI * slant * ((top + bottom) / 2);
    expect(inPart / part.pxPerMm ** 2 / (areaMm2 / 3)).toBeCloseTo(1, 2);
    // The same points of the surface, in both views.
    for (const [turn, down] of [
      [0.4, 0.2],
      [0.5, 0.5],
      [0.6, 0.8],
    ]) {
      const [x, y] = view.place(turn, down).map(Math.floor);
      const [u, v] = part.place(3 * turn - 1, down).map(Math.floor);
      expect(part.luminance[v * part.columns + u]).toBeCloseTo(view.luminance[y * view.columns + x], 1);
    }
  });

  it("shows as much surface as the cone has, π · s · (R₁ + R₂)", () => {
    const shown = view.luminance.filter((luminance) => !Number.isNaN(luminance)).length;
    const areaMm2 = Math.PI * slant * ((top + bottom) / 2);
    expect(shown / view.pxPerMm ** 2 / areaMm2).toBeCloseTo(1, 2);
  });
});
