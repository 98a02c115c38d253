import { describe, expect, it } from "vitest";
import { placeHtml } from "../../../src/6-report/pages/report-place.js";
import { sheetPath } from "../../../src/6-report/pages/unrolled.js";
import { coneSurface, cylinderSurface } from "../../../src/6-report/pages/unrolled-surface.js";
import type { Report, ReportAround, ReportPlaced } from "../../../src/6-report/report.js";
import { frustum, sheetBox } from "../../../src/core/physics/frustum.js";
import { METRIC, type ShownUnits } from "../../../src/core/shown-units.js";
import { unroll } from "../../support/unroll.js";

const placed: ReportPlaced = {
  ...{ pictureWidthMm: 50, pictureHeightMm: 30, angleDeg: 90 },
  ...{ startAngleDeg: 50.76, startAlongMm: 32.33, turnDeg: 78.49 },
  fromRim: { pictureMm: 20, bitmapMm: 19.4 },
};

function expectNear(got: readonly number[], wanted: readonly number[], withinMm = 0.01): void {
  expect(got).toHaveLength(wanted.length);
  got.forEach((value, k) => {
    expect(Math.abs(value - wanted[k])).toBeLessThan(withinMm);
  });
}

/** A point of the picture after an SVG transform of turns (clockwise) and shifts, the last one first. */
function moved(svg: string, [x, y]: readonly [number, number]) {
  const steps = [...svg.matchAll(/(rotate|translate)\(([^)]*)\)/g)].reverse();
  return steps.reduce<[number, number]>(
    ([px, py], [, name, numbers]) => {
      const [a, b = 0] = numbers.split(" ").map(Number);
      if (name === "translate") return [px + a, py + b];
      const [sine, cosine] = [Math.sin((a * Math.PI) / 180), Math.cos((a * Math.PI) / 180)];
      return [px * cosine - py * sine, px * sine + py * cosine];
    },
    [x, y],
  );
}

describe("the unrolled surface", () => {
  it("of a cylinder holds the picture about its angle, from its distance down", () => {
    const surface = cylinderSurface(240, placed);
    const left = surface.at(90 - 78.49 / 2, 19.4);
    expectNear(moved(surface.picture(90), [0, 0]), left);
    expect(surface.at(90, 20)).toEqual([60, 20]);
  });

  it.each([
    [85, 62, 140, 90],
    [50, 80, 90, 300],
    [120, 40, 60, 200],
  ])(
    "of a cone of %d to %d mm, %d mm high, holds the picture's corners at %d°",
    (top, bottom, slant, angleDeg) => {
      // The bitmap lies from 19.4 mm to 50 mm below the rim.
      const diameter = (downMm: number) => top + ((bottom - top) * downMm) / slant;
      const cone = frustum(diameter(19.4), diameter(50), 30.6);
      const angleRad = (cone.sectorAngleRad * placed.turnDeg) / 360;
      const box = sheetBox(cone, angleRad);
      const surface = coneSurface({ cone, angleRad, box }, placed);
      const place = unroll({ top, bottom, slant });
      // By strips in space: the whole wall, and the bitmap's part of it about its own middle line.
      for (const downMm of [19.4, 50]) {
        for (const aside of [-placed.turnDeg / 2, 0, placed.turnDeg / 2]) {
          const there = place((angleDeg + aside) / 360, downMm / slant);
          expectNear(surface.at(angleDeg + aside, downMm), there);
          const [x, y] = place(0.5 + aside / 360, downMm / slant);
          expectNear(moved(surface.picture(angleDeg), [x - box.leftMm, y - box.topMm]), there);
        }
      }
    },
  );

  it("is cut out along two arcs and two rays", () => {
    for (const [top, bottom] of [
      [85, 62],
      [62, 85],
    ]) {
      const cone = frustum(top, bottom, 140);
      const path = sheetPath(cone, cone.sectorAngleRad);
      const place = unroll({ top, bottom, slant: 140 });
      const points = [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)(?=[ALZ])/g)].map(([, x, y]) => [
        Number(x),
        Number(y),
      ]);
      const inner = top > bottom ? 1 : 0;
      const corners = [place(0, inner), place(1, inner), place(1, 1 - inner), place(0, 1 - inner)];
      expect(points).toHaveLength(4);
      expectNear(points.flat(), corners.flat(), 0.05);
      // Seen from the apex the arcs bulge away from it: below it against the clock, above it with the clock.
      const sweeps = [...path.matchAll(/A[\d.]+ [\d.]+ 0 0 (\d) /g)].map(([, sweep]) => sweep);
      expect(sweeps).toEqual(top > bottom ? ["1", "0"] : ["0", "1"]);
    }
  });
});

describe("the section of a placed picture", () => {
  const html = (around: Partial<ReportAround>, length: ShownUnits["length"] = "mm") =>
    placeHtml({
      units: { ...METRIC, length },
      job: {
        heightMm: 30,
        around: { topDiameterMm: 76, bottomDiameterMm: 76, circumferenceMm: 238.8, ...around },
      },
    } as Report);

  it("is only there where there is one", () => {
    expect(html({})).toBe("");
  });

  it("labels what is known, and dashes what is not", () => {
    const wall = { lengthMm: 140, rimDiameterMm: 76, footDiameterMm: 76 };
    const known = html({ placed: { ...placed, wall } });
    for (const words of [">rim<", ">foot<", ">90°<", ">20 mm<", ">0° (mark)<"])
      expect(known).toContain(words);
    expect(known).not.toContain("stroke-dasharray");
    expect(known).toContain("Rotate to 50.76° (32.33 mm) from your mark and start 19.4 mm below the rim");
    const { fromRim: _, ...open } = placed;
    const unknown = html({ placed: open });
    expect(unknown).not.toMatch(/>rim<|>foot<|>20 mm</);
    expect(unknown.match(/stroke-dasharray/g)).toHaveLength(2);
    expect(unknown).toContain("start at the height that you choose");
  });

  // An inch is 25.4 mm.
  it("speaks in inches to somebody who does", () => {
    const wall = { lengthMm: 70, rimDiameterMm: 76, footDiameterMm: 76 };
    const said = html({ placed: { ...placed, wall } }, "in");
    expect(said).toContain("Rotate to 50.76° (1.273 in) from your mark and start 0.764 in below the rim");
    expect(said).toContain("Set the rotary attachment to a diameter of 2.992 in.");
    expect(said).toContain("its top 0.787 in below the rim, half-way down the wall of 2.756 in.");
    expect(said).toContain(">0.787 in<");
    expect(said.replace(/<[^>]*>/g, "")).not.toMatch(/\d mm/);
  });

  it("draws a picture across the mark at both ends", () => {
    const pictures = (angleDeg: number) => html({ placed: { ...placed, angleDeg } }).match(/<use /g)?.length;
    expect([pictures(90), pictures(0), pictures(39), pictures(40), pictures(330)]).toEqual([1, 2, 2, 1, 2]);
  });
});
