import { describe, expect, it } from "vitest";
import { closedColumns, tileColumnsOf } from "../../src/core/wrap.js";
import { resolveOptions } from "../../src/options/options.js";
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
    [{ aroundMm: 60, widthMm: 40 }, "OPTION_CONFLICT", /leave the width out.*part of a cylinder/],
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
