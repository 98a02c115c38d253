import { describe, expect, it } from "vitest";
import { closedColumns, tileColumnsOf } from "../../src/core/wrap.js";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import { parsePlaceOnRound } from "../../src/options/parse-places.js";
import { parseAround } from "../../src/options/quantities.js";
import { refusalOf } from "../support/refusal.js";

describe("columns of a row that closes", () => {
  it("are whole sixteens, as near as such may be, and never none", () => {
    expect(closedColumns(188.4956, 0.1)).toBe(1888); // 1885 asked; 1872 is further off
    expect(closedColumns(0.3, 0.1)).toBe(16);
    for (let wanted = 20; wanted < 2900; wanted += 7) {
      const columns = closedColumns(wanted, 1);
      expect(columns % 16).toBe(0);
      expect(Math.abs(columns - wanted)).toBeLessThanOrEqual(8);
    }
  });

  it("can be cut into equal tiles of 91 to 182 columns, however many they are", () => {
    for (let wanted = 91; wanted < 60_000; wanted += 13) {
      const columns = closedColumns(wanted, 1);
      expect(Math.abs(columns / wanted - 1)).toBeLessThan(wanted < 1450 ? 8.5 / wanted : 0.0056);
      const tile = tileColumnsOf(columns, 91);
      expect(columns % tile).toBe(0);
      expect(tile).toBeGreaterThanOrEqual(91);
      expect(tile).toBeLessThanOrEqual(182);
    }
  });
});

describe("options of a round piece", () => {
  it("make the columns fill the circumference exactly", () => {
    for (const aroundMm of [3, 17.3, 60, 350]) {
      const { ringColumns, pitch, widthMm } = resolveOptions({ aroundMm, linesPerInch: 254 });
      expect(ringColumns * pitch.alongMm).toBeCloseTo(Math.PI * aroundMm, 9);
      expect(widthMm).toBeCloseTo(Math.PI * aroundMm, 12);
      expect(pitch.acrossMm).toBeCloseTo(0.1, 12);
      expect(Math.abs(pitch.alongMm / 0.1 - 1)).toBeLessThan(Math.max(0.0056, 8.5 / ringColumns));
    }
  });

  it("count a cone by its circle half-way down, and flat work not at all", () => {
    const cone = resolveOptions({ aroundMm: { topMm: 80, bottomMm: 60 } });
    expect(cone.widthMm).toBeCloseTo(Math.PI * 70, 12);
    const flat = resolveOptions({ widthMm: 100, linesPerInch: 254 });
    expect([flat.ringColumns, flat.wrap, flat.pitch.alongMm]).toEqual([0, undefined, flat.pitch.acrossMm]);
  });

  it.each([
    [{ aroundMm: 60, wallMm: 40 }, "OPTION_CONFLICT", /on a part of the piece: give widthMm too/],
    [{ aroundMm: 60, place: { angleDeg: 400 } }, "OPTION_INVALID", /an angle of -360 to 360 degrees/],
    [{ aroundMm: 60, place: { fromRimMm: -1 } }, "OPTION_INVALID", /0 to 3000 mm from the rim/],
    [{ aroundMm: 60, place: { down: 5 } }, "OPTION_INVALID", /place/],
    [{ aroundMm: 0 }, "OPTION_INVALID", /1 to 950 mm/],
    [{ aroundMm: { topMm: 60 } }, "OPTION_INVALID", /two for a cone/],
    [{ aroundMm: { topMm: 60, bottomMm: 20 }, heightMm: 20 }, "OPTION_CONFLICT", /exceed the 20 mm/],
    [{ aroundMm: 60, coneLayout: "round" }, "OPTION_INVALID", /one of flat, level/],
  ])("refuse %j", (options, code, message) => {
    const error = refusalOf(() => resolveOptions(options as never));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
  });
});

describe("options of a placed picture", () => {
  const ends = { topMm: 85, bottomMm: 62 };
  const wrapOf = (options: PrepareOptions) => resolveOptions(options).wrap;

  it("keep the width and the density, with no column for closing", () => {
    const resolved = resolveOptions({ aroundMm: 60, widthMm: 40, linesPerInch: 254 });
    expect(resolved).toMatchObject({ widthMm: 40, ringColumns: 0 });
    expect(resolved.pitch.alongMm).toBe(resolved.pitch.acrossMm);
    expect(resolved.wrap).toEqual({
      ...{ topMm: 60, bottomMm: 60, layout: "flat" },
      placing: { angleDeg: 0 },
    });
  });

  it.each<[PrepareOptions, object]>([
    [
      { aroundMm: 60, place: { fromRimMm: 20 } },
      { fromRimMm: 20, angleDeg: 0 },
    ],
    [{ aroundMm: 60, place: { angleDeg: 450 - 360 } }, { angleDeg: 90 }],
    [{ aroundMm: 60, place: { angleDeg: -30 } }, { angleDeg: 330 }],
    [{ aroundMm: 60, place: { angleDeg: 360 } }, { angleDeg: 0 }],
    [
      { aroundMm: ends, wallMm: 140, place: { fromRimMm: 0, angleDeg: 1 } },
      { fromRimMm: 0, angleDeg: 1, wallMm: 140 },
    ],
    [{ aroundMm: ends, widthMm: 40 }, { angleDeg: 0 }],
  ])("%j", (options, placing) => {
    expect(wrapOf(options)?.placing).toEqual(placing);
  });

  it("take an oval and a focus, which a whole turn cannot have", () => {
    const part: PrepareOptions = { aroundMm: ends, wallMm: 140, widthMm: 40 };
    const focus = { xPercent: 20, yPercent: 20 };
    expect(wrapOf({ ...part, oval: true, focus })?.placing).toBeDefined();
    expect(refusalOf(() => wrapOf({ aroundMm: ends, focus })).option).toBe("focus");
    expect(refusalOf(() => wrapOf({ aroundMm: 60, oval: true })).option).toBe("oval");
  });
});

it.each<[string, unknown]>([
  ["20mm,90deg", { fromRimMm: 20, angleDeg: 90 }],
  ["2cm, 90°", { fromRimMm: 20, angleDeg: 90 }],
  ["20,90", { fromRimMm: 20, angleDeg: 90 }],
  ["-90deg,1in", { fromRimMm: 25.4, angleDeg: -90 }],
  ["20", { fromRimMm: 20 }],
  ["90deg", { angleDeg: 90 }],
  ["0mm", { fromRimMm: 0 }],
])("reads --place %s", (text, wanted) => {
  expect(parsePlaceOnRound("--place", text)).toEqual(wanted);
});

it.each(["", ",", "20mm,", ",90deg", "20mm,90deg,5", "90deg,45deg", "20mm,5mm", "here", "20 90"])(
  "refuses --place %j",
  (text) => {
    expect(refusalOf(() => parsePlaceOnRound("--place", text)).code).toBe("OPTION_INVALID");
  },
);

it.each<[string, unknown]>([
  ["60", 60],
  ["6cm", 60],
  ["2in", 50.8],
  ["80..60", { topMm: 80, bottomMm: 60 }],
  ["80mm .. 6cm", { topMm: 80, bottomMm: 60 }],
  ["8..6cm", { topMm: 80, bottomMm: 60 }],
  ["60..60mm", 60],
])("reads --around %s", (text, wanted) => {
  expect(parseAround("--around", text)).toEqual(wanted);
});
