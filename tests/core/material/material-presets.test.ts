import { describe, expect, it } from "vitest";
import { generalCautions } from "../../../src/core/material/cautions.js";
import { type MaterialPreset, materialPresets } from "../../../src/core/material/material-presets.js";

/** CIE 1976 lightness of a luminance factor (CIE 15; ISO/CIE 11664-4). */
function lightness(luminanceFactor: number): number {
  return luminanceFactor > 216 / 24389
    ? 116 * Math.cbrt(luminanceFactor) - 16
    : (24389 / 27) * luminanceFactor;
}

/** Luminance of an sRGB colour: IEC 61966-2-1 decoding, BT.709 weights. */
function luminanceOfHex(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const coded = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return coded <= 0.04045 ? coded / 12.92 : ((coded + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** The luminance factor at a dose by straight lines between the points: enough to place a threshold. */
function luminanceAt({ response }: MaterialPreset, dose: number): number {
  const after = response.findIndex(([d]) => d >= dose);
  if (after < 0) return end(response)[1];
  if (after === 0) return response[0][1];
  const [[d0, y0], [d1, y1]] = [response[after - 1], response[after]];
  return y0 + ((y1 - y0) * (dose - d0)) / (d1 - d0);
}

function end<T>(items: readonly T[]): T {
  return items[items.length - 1];
}

function preset(id: string): MaterialPreset {
  const found = materialPresets.find((candidate) => candidate.id === id);
  if (!found) throw new Error(`no preset ${id}`);
  return found;
}

const bare = ({ response }: MaterialPreset) => response[0][1];
const marked = ({ response }: MaterialPreset) => end(response)[1];

/** Width in dose of the part between 10 % and 90 % of the change, on a fine grid. */
function transitionWidth(material: MaterialPreset): number {
  const doses = Array.from({ length: 1001 }, (_, i) => i / 1000);
  const change = (dose: number) =>
    (luminanceAt(material, dose) - bare(material)) / (marked(material) - bare(material));
  return doses.filter((dose) => change(dose) > 0.1 && change(dose) < 0.9).length / 1000;
}

it("offers at least twelve materials, some that darken and some that lighten", () => {
  expect(materialPresets.length).toBeGreaterThanOrEqual(12);
  expect(materialPresets.filter((material) => marked(material) < bare(material)).length).toBeGreaterThan(3);
  expect(materialPresets.filter((material) => marked(material) > bare(material)).length).toBeGreaterThan(3);
});

it("gives every id and alias to one material only, in kebab case", () => {
  const names = materialPresets.flatMap(({ id, aliases = [] }) => [id, ...aliases]);
  expect(new Set(names).size).toBe(names.length);
  for (const name of names) expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
});

describe.each(materialPresets.map((material) => [material.id, material] as const))("%s", (_, material) => {
  const { response, bareColor, markedColor, shape } = material;

  it("has six to ten points, doses rising strictly from 0 to 1", () => {
    expect(response.length).toBeGreaterThanOrEqual(6);
    expect(response.length).toBeLessThanOrEqual(10);
    expect(response[0][0]).toBe(0);
    expect(end(response)[0]).toBe(1);
    for (let i = 1; i < response.length; i++) expect(response[i][0]).toBeGreaterThan(response[i - 1][0]);
  });

  it("changes luminance strictly one way, inside 0..1", () => {
    const direction = Math.sign(marked(material) - bare(material));
    for (const [, luminance] of response) {
      expect(luminance).toBeGreaterThan(0);
      expect(luminance).toBeLessThan(1);
    }
    for (let i = 1; i < response.length; i++) {
      expect(direction * (response[i][1] - response[i - 1][1])).toBeGreaterThan(0);
    }
  });

  it("has a dead zone, a rise and saturation: the slope grows, then shrinks, with no second wave", () => {
    const slopes = response
      .slice(1)
      .map(([dose, y], i) => Math.abs((y - response[i][1]) / (dose - response[i][0])));
    const steepest = slopes.indexOf(Math.max(...slopes));
    expect(steepest).toBeGreaterThan(0);
    expect(steepest).toBeLessThan(slopes.length - 1);
    for (let i = 1; i < slopes.length; i++) {
      if (i <= steepest) expect(slopes[i]).toBeGreaterThan(slopes[i - 1]);
      else expect(slopes[i]).toBeLessThan(slopes[i - 1]);
    }
  });

  it("shows colours as light as its response says, within 5 %", () => {
    expect(bareColor).toMatch(/^#[0-9a-f]{6}$/);
    expect(markedColor).toMatch(/^#[0-9a-f]{6}$/);
    expect(Math.abs(luminanceOfHex(bareColor) / bare(material) - 1)).toBeLessThan(0.05);
    expect(Math.abs(luminanceOfHex(markedColor) / marked(material) - 1)).toBeLessThan(0.05);
  });

  it("is as steep or gradual as it claims", () => {
    if (shape === "steep") expect(transitionWidth(material)).toBeLessThan(0.3);
    else expect(transitionWidth(material)).toBeGreaterThan(0.4);
  });

  it("names its hazards, and says that nobody measured it", () => {
    expect(material.hazards.length).toBeGreaterThan(0);
    expect(material.source).toMatch(/^illustrative: .*assumed/);
  });
});

describe("published drops in L*", () => {
  // Kubovský, Kačík & Veľková, BioResources 13(2), 2515 (2018): largest change at 10.6 µm, 45 W.
  it.each([
    ["maple", -56.0],
    ["beech", -46.8],
    ["lime", -50.5],
  ])("%s: %d", (id, published) => {
    const change = lightness(marked(preset(id))) - lightness(bare(preset(id)));
    expect(Math.abs(change - published)).toBeLessThan(0.1);
    expect(preset(id).source).toContain("BioResources 13(2), 2515 (2018)");
  });
});

// Common practice, no source: with a 0.115 mm spot and the energy per line kept, a coating comes off cleanly
// and looks the same from 225 to 800 lines per inch, while 150 leaves visible uncut lines.
describe("coated steel under a 0.115 mm spot", () => {
  const steel = preset("coated-steel");

  /** Least dose, half way between lines: the sum of the neighbouring Gaussian lines. */
  function doseBetweenLines(linesPerInch: number): number {
    const sigmaMm = 0.115 / 4;
    const pitchMm = 25.4 / linesPerInch;
    let perMm = 0;
    for (let line = -40; line < 40; line++) {
      const offsetMm = (line + 0.5) * pitchMm;
      perMm += Math.exp(-(offsetMm ** 2) / (2 * sigmaMm ** 2)) / (sigmaMm * Math.sqrt(2 * Math.PI));
    }
    return perMm * (steel.referencePitchMm ?? Number.NaN);
  }

  it.each([225, 300, 400, 800])("is clean between lines at %d lines per inch", (linesPerInch) => {
    const left = lightness(marked(steel)) - lightness(luminanceAt(steel, doseBetweenLines(linesPerInch)));
    expect(left).toBeLessThan(1);
  });

  it("keeps its paint between lines at 150 lines per inch", () => {
    const lost = lightness(luminanceAt(steel, doseBetweenLines(150))) - lightness(bare(steel));
    expect(lost).toBeLessThan(10);
  });
});

it("keeps the general cautions to at most nine sentences, the first deferring to codes, maker and professionals", () => {
  expect(generalCautions.length).toBeLessThanOrEqual(9);
  for (const caution of generalCautions) expect(caution).toMatch(/^[A-Z][^.]*\.$/);
  expect(generalCautions[0]).toMatch(/local codes.*maker's instructions.*licensed professional/);
  expect(generalCautions.join(" ")).toMatch(/PVC.*PTFE.*polycarbonate.*ABS.*carbon fibre.*beryllium/);
});
