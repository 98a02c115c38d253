import { describe, expect, it } from "vitest";
import { insideBent } from "../../src/3-resample/inside-bent.js";
import { framePlaced } from "../../src/3-resample/placed.js";
import { unrolledRows } from "../../src/3-resample/unrolled-rows.js";
import type { Wrap } from "../../src/core/wrap.js";

const pitch = { alongMm: 0.2, acrossMm: 0.2 };

describe.each([
  [85, 62, 140, 20],
  [50, 80, 90, 30],
  [120, 40, 60, 5],
])("a picture on a cone of %d to %d mm, %d mm long, %d mm down", (topMm, bottomMm, wallMm, fromRimMm) => {
  const wrap: Wrap = { topMm, bottomMm, layout: "flat" };
  const request = { sourceColumns: 300, sourceRows: 200, widthMm: 45, pitch };
  const frame = framePlaced(request, wrap, { angleDeg: 0, fromRimMm, wallMm });
  const { sheet, columns, rows } = frame;
  if (!sheet?.picture) throw new Error("not bent");
  const { picture, frustum, angleRad } = sheet;

  /** Place of a corner of a pixel, from the middle of the picture, by the cone's own angle and radius. */
  const place = (x: number, y: number) => {
    const share = y / rows;
    const radiusMm = frustum.innerRadiusMm + frustum.slantMm * (bottomMm > topMm ? share : 1 - share);
    const angle = angleRad * (x / columns - 0.5);
    const upright = bottomMm > topMm ? 1 : -1;
    return [
      radiusMm * Math.sin(angle),
      upright * radiusMm * Math.cos(angle) - picture.topMm - picture.heightMm / 2,
    ];
  };

  it.each([1, 0.6])("holds a rectangle of pixels that touches its sides, %d of its size", (share) => {
    const within = { widthMm: share * picture.widthMm, heightMm: share * picture.heightMm };
    const area = insideBent(frame, sheet, picture, within);
    if (!area) throw new Error("none");
    const { left, top } = area;
    const [right, bottom] = [left + area.columns, top + area.rows];
    let [besideMm, aboveMm] = [0, 0];
    for (let k = 0; k <= 100; k++) {
      const x = left + (area.columns * k) / 100;
      const y = top + (area.rows * k) / 100;
      for (const [u, v] of [place(x, top), place(x, bottom), place(left, y), place(right, y)]) {
        besideMm = Math.max(besideMm, Math.abs(u));
        aboveMm = Math.max(aboveMm, Math.abs(v));
      }
    }
    expect(besideMm).toBeLessThanOrEqual(within.widthMm / 2 + 1e-9);
    expect(besideMm).toBeGreaterThan(within.widthMm / 2 - 0.4);
    expect(aboveMm).toBeLessThanOrEqual(within.heightMm / 2 + 1e-9);
    expect(aboveMm).toBeGreaterThan(within.heightMm / 2 - 0.4);
  });

  it("may have no room for one", () => {
    expect(insideBent(frame, sheet, picture, { widthMm: 45, heightMm: 0.2 })).toBeUndefined();
  });

  it("of which a photo cut to its shape shows no more than its size", () => {
    // A square of 30 mm from a photo of 300 × 200 pixels: beside it the surface is bare, although the photo goes on.
    const square = framePlaced({ ...request, widthMm: 30, heightMm: 30 }, wrap, {
      angleDeg: 0,
      fromRimMm,
      wallMm,
    });
    if (!square.sheet) throw new Error("not bent");
    const grid = square.sheet;
    const row = new Float32Array(grid.columns);
    const rowAt = unrolledRows(new Float32Array(300 * 200), 300, 200, grid, 1);
    let areaMm2 = 0;
    for (let j = 0; j < grid.rows; j++) {
      rowAt(j, row, 0, 1);
      const share = (j + 0.5) / grid.rows;
      const { innerRadiusMm, slantMm } = grid.frustum;
      const radiusMm = innerRadiusMm + slantMm * (bottomMm > topMm ? share : 1 - share);
      const cellMm2 = ((radiusMm * grid.angleRad) / grid.columns) * (slantMm / grid.rows);
      areaMm2 += cellMm2 * row.filter((value) => value === 0).length;
    }
    expect(areaMm2 / 900).toBeCloseTo(1, 2);
  });
});
