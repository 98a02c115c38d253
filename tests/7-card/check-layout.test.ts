import { describe, expect, it } from "vitest";
import type { CardSpec } from "../../src/7-card/card-spec.js";
import { codeText, specOfCode } from "../../src/7-card/card-spec.js";
import { CHECK_STEPS, checkLayout, referencesOf } from "../../src/7-card/check-layout.js";
import { bareInside, cornersOf, frameOf } from "../../src/7-card/marks.js";

const spec = (changes: Partial<CardSpec> = {}): CardSpec => ({
  ...{ widthMm: 70, heightMm: 45, linesPerInch: 254, linesPerInchAlong: 254, levels: 2 },
  ...{ seed: 1234, oneWay: false, isCheck: true, ...changes },
});

describe("the code of a check card", () => {
  it("ends with a C, and says that it is one", () => {
    const text = codeText(spec({ oneWay: true }));
    expect(text).toBe("SPOTPITCH1 W70 H45 D254 L2 S1234 O C");
    expect(specOfCode(text)).toEqual(spec({ oneWay: true }));
    expect(specOfCode(text.replace(" C", ""))?.isCheck).toBeUndefined();
  });
});

describe.each([
  ["the usual one", {}],
  ["a coarse one", { linesPerInch: 100, linesPerInchAlong: 120 }],
  ["a small one", { widthMm: 50, heightMm: 40, linesPerInch: 508, linesPerInchAlong: 508 }],
  ["a large one", { widthMm: 120, heightMm: 90 }],
])("a check card, %s", (_, changes) => {
  const layout = checkLayout(spec(changes));
  const { grid, patches, photoArea, codeArea } = layout;

  it("has every tone three times or more, and references enough for uneven light", () => {
    const count = (shows: unknown) => patches.filter((patch) => patch.shows === shows).length;
    for (let step = 1; step <= CHECK_STEPS; step++) expect(count(step)).toBeGreaterThanOrEqual(3);
    // The surface of light has ten numbers, and one more is the contrast.
    expect(count("bare") + count("solid")).toBeGreaterThanOrEqual(16);
    expect(Math.abs(count("bare") - count("solid"))).toBeLessThan(4);
    expect(referencesOf(layout)).toHaveLength(count("bare") + count("solid"));
  });

  it("overlaps nowhere, and everything lies on the card", () => {
    const used = new Uint8Array(grid.columns * grid.rows);
    const corners = cornersOf(grid);
    const sides = frameOf(grid).slice(0, 2);
    const areas = [
      ...patches.map(({ area }) => area),
      photoArea,
      codeArea,
      ...corners.map(({ area }) => area),
    ];
    for (const { left, top, columns, rows } of areas) {
      expect(Math.min(left, top)).toBeGreaterThanOrEqual(0);
      expect(left + columns).toBeLessThanOrEqual(grid.columns);
      expect(top + rows).toBeLessThanOrEqual(grid.rows);
      for (let y = top; y < top + rows; y++) {
        for (let x = left; x < left + columns; x++) used[y * grid.columns + x]++;
      }
    }
    for (const { top, rows } of sides) {
      for (const { area } of patches)
        expect(area.top + area.rows <= top || area.top >= top + rows).toBe(true);
    }
    expect(used.reduce((most, each) => Math.max(most, each), 0)).toBe(1);
    expect(corners.flatMap((corner) => bareInside(corner, grid) ?? [])).toHaveLength(2);
  });

  it("starts tones and photo on even lines, which all run in one direction", () => {
    for (const { area } of patches) expect(area.top % 2).toBe(0);
    expect(photoArea.top % 2).toBe(0);
  });
});

it("a check card that is too small is refused, with a size that is enough", () => {
  const wanted = expect.objectContaining({
    code: "OPTION_CONFLICT",
    message: expect.stringMatching(/70 × 45 mm is enough at 150 lines/),
  });
  expect(() => checkLayout(spec({ widthMm: 30, heightMm: 30 }))).toThrow(wanted);
  expect(() => checkLayout(spec({ linesPerInch: 150, linesPerInchAlong: 150 }))).not.toThrow();
});
