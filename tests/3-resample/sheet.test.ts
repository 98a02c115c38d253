import { describe, expect, it } from "vitest";
import { frameOnSheet, spansOnSheet } from "../../src/3-resample/sheet.js";

const [columns, rows] = [240, 180];

describe("what of a photo lies on the sheet of a cone", () => {
  it.each<[number, number, "cover" | "contain"]>([
    [22, 18, "cover"],
    [18, 22, "cover"],
    [60, 20, "cover"],
    [30, 28, "contain"],
  ])("is where points of the sheet fall, diameters %d and %d mm, %s", (topMm, bottomMm, fit) => {
    const request = {
      sourceColumns: columns,
      sourceRows: rows,
      pitch: { alongMm: 0.1, acrossMm: 0.1 },
      widthMm: (Math.PI * (topMm + bottomMm)) / 2,
      heightMm: 40,
      fit,
    };
    const { sheet } = frameOnSheet(request, { topMm, bottomMm, layout: "flat" });
    if (!sheet) throw new Error("no sheet");
    const { frustum: cone, pxPerMmAlong, pxPerMmAcross, apexXPx, apexYPx } = sheet;
    // The sheet covered with points: a sector of a ring, with its apex above if the piece widens downwards, else below.
    const hit = new Uint8Array(columns * rows);
    const side = bottomMm > topMm ? 1 : -1;
    for (let a = 0; a < 3000; a++) {
      const angle = cone.sectorAngleRad * ((a + 0.5) / 3000 - 0.5);
      for (let r = 0; r < 1000; r++) {
        const radiusMm = cone.innerRadiusMm + cone.slantMm * ((r + 0.5) / 1000);
        const x = Math.floor(apexXPx + radiusMm * Math.sin(angle) * pxPerMmAlong);
        const y = Math.floor(apexYPx + side * radiusMm * Math.cos(angle) * pxPerMmAcross);
        if (x >= 0 && y >= 0 && x < columns && y < rows) hit[y * columns + x] = 1;
      }
    }
    const on = new Uint8Array(columns * rows);
    for (let y = 0; y < rows; y++) {
      for (const [left, right] of spansOnSheet(sheet, columns, y))
        on.fill(1, y * columns + left, y * columns + right);
    }
    // Every pixel whose centre lies on the sheet is hit. The other hit pixels lie on the edges of the sheet.
    const surrounded = (i: number): boolean =>
      [0, 1, -1, columns, -columns, columns + 1, columns - 1, 1 - columns, -1 - columns].every(
        (step) => hit[i + step] === 1,
      );
    for (let i = 0; i < on.length; i++) {
      const x = i % columns;
      if (on[i] === 1) expect(hit[i], `pixel ${i}`).toBe(1);
      else if (x > 0 && x < columns - 1) expect(surrounded(i), `pixel ${i}`).toBe(false);
    }
    const share = on.reduce((sum, value) => sum + value, 0) / on.length;
    expect(share).toBeGreaterThan(0.2);
    if (fit === "cover") expect(share).toBeLessThan(1);
  });
});
