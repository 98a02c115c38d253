import { describe, expect, it } from "vitest";
import {
  parseLengthMm,
  parseNumber,
  parsePercent,
  parsePitchMm,
  parseSpot,
  parseSpread,
} from "../../src/options/quantities.js";
import { refusalOf } from "../support/refusal.js";

describe("a length", () => {
  it.each([
    ["80", 80],
    ["80mm", 80],
    [" 80 mm ", 80],
    ["80MM", 80],
    ["8cm", 80],
    ["3.15in", 80.01],
    [".5in", 12.7],
    ["1e2", 100],
    ["1e9", 1e9],
    ["+4", 4],
    ["0", 0],
    ["-5", -5],
    ["7.", 7],
  ])('"%s" is %d mm', (text, mm) => {
    expect(parseLengthMm("width", text)).toBeCloseTo(mm, 9);
  });

  it.each(["", " ", "abc", "10 bananas", "80 m", "mm", "8 0", "1,5", "0x10", "--5", "1e", "80mmmm", "NaN"])(
    'cannot be "%s"',
    (text) => {
      const error = refusalOf(() => parseLengthMm("width", text));
      expect(error.code).toBe("OPTION_INVALID");
      expect(error.option).toBe("width");
      expect(error.received).toBe(text);
    },
  );
});

describe("a density", () => {
  it.each([
    ["254", 0.1],
    ["508", 0.05],
    ["10/mm", 0.1],
    ["8.7 / mm", 1 / 8.7],
    ["0.1mm", 0.1],
    ["0.01cm", 0.1],
    ["0.004in", 0.1016],
    ["254lpi", 0.1],
    ["300 DPI", 25.4 / 300],
    ["300/in", 25.4 / 300],
    ["300 / in", 25.4 / 300],
    ["1e9", 2.54e-8],
  ])('"%s" is a pitch of %d mm', (text, pitchMm) => {
    expect(parsePitchMm("lines", text)).toBeCloseTo(pitchMm, 12);
  });

  it.each([
    "0",
    "-5",
    "0/mm",
    "-10/mm",
    "0mm",
    "-0.1mm",
    "abc",
    "10 bananas",
    "254lp",
    "254 ppm",
    "0dpi",
    "10/cm",
    "",
    "1e400",
  ])('cannot be "%s"', (text) => {
    const error = refusalOf(() => parsePitchMm("lines", text));
    expect(error.code).toBe("OPTION_INVALID");
    expect(error.option).toBe("lines");
  });
});

describe("a spot", () => {
  it.each([
    ["0.115mm", 0.115, 0.115],
    ["0.115", 0.115, 0.115],
    ["0.08x0.15mm", 0.08, 0.15],
    ["0.08 x 0.15 mm", 0.08, 0.15],
    ["0.08×0.15", 0.08, 0.15],
    ["0.08mmX0.015cm", 0.08, 0.15],
    ["0.003x0.006in", 0.0762, 0.1524],
    // 1/e² diameter over full width at half maximum: √(2/ln 2) = 1.698644 (arithmetic).
    ["0.07mm fwhm", 0.1189051, 0.1189051],
    ["0.07 FWHM", 0.1189051, 0.1189051],
    ["0.05x0.07mm fwhm", 0.0849322, 0.1189051],
  ])('"%s" is %d × %d mm', (text, alongMm, acrossMm) => {
    const spot = parseSpot("spot", text);
    expect(spot.alongMm).toBeCloseTo(alongMm, 7);
    expect(spot.acrossMm).toBeCloseTo(acrossMm, 7);
  });

  it.each([
    "0",
    "-5",
    "0x0.1",
    "0.1x0",
    "abc",
    "10 bananas",
    "fwhm",
    "0.1x",
    "x0.1",
    "0.1x0.2x0.3",
    "",
    "1e400",
  ])('cannot be "%s"', (text) => {
    const error = refusalOf(() => parseSpot("spot", text));
    expect(error.code).toBe("OPTION_INVALID");
    expect(error.received).toBe(text);
  });
});

describe("a spread", () => {
  it.each([
    ["10%", 0.1],
    ["10", 0.1],
    ["1", 0.01],
    ["0", 0],
    ["0.1%", 0.001],
    ["0.5 %", 0.005],
  ])('"%s" is the share %d', (text, share) => {
    expect(parseSpread("spread", text)).toBeCloseTo(share, 12);
  });

  it.each([
    ["0.1", "10%", "0.1%"],
    [" 0.15 ", "15%", "0.15%"],
    [".07", "7%", ".07%"],
  ])('"%s" may mean %s or %s, so it is asked', (text, fraction, percent) => {
    const error = refusalOf(() => parseSpread("spread", text));
    expect(error.code).toBe("OPTION_INVALID");
    expect(error.message).toContain(`write ${fraction} or`);
    expect(error.message).toContain(`, ${percent};`);
  });
});

describe("a percentage and a plain number", () => {
  it.each([
    ["10%", 0.1],
    ["10", 0.1],
    ["12.5 %", 0.125],
    ["0", 0],
    ["-5%", -0.05],
  ])('"%s" is the share %d', (text, share) => {
    expect(parsePercent("spread", text)).toBeCloseTo(share, 12);
  });

  it.each(["", "abc", "%", "10%%", "10 bananas", "ten"])('a percentage cannot be "%s"', (text) => {
    expect(refusalOf(() => parsePercent("spread", text)).code).toBe("OPTION_INVALID");
  });

  it.each([
    ["300", 300],
    [" -2.5 ", -2.5],
    ["1e3", 1000],
  ])('"%s" is the number %d', (text, value) => {
    expect(parseNumber("speed", text)).toBe(value);
  });

  it.each(["", "abc", "5mm", "0x10", "Infinity", "1 2"])('a number cannot be "%s"', (text) => {
    expect(refusalOf(() => parseNumber("speed", text)).code).toBe("OPTION_INVALID");
  });
});
