import { describe, expect, it } from "vitest";
import { listOf } from "../../src/options/kinds.js";
import {
  accelerationUnits,
  parseAccelerationMmPerS2,
  parseLengthMm,
  parseNumber,
  parsePercent,
  parsePitchMm,
  parseSpeedMmPerS,
  parseSpot,
  parseSpread,
  parseSpreadParts,
  sizeUnits,
  speedUnits,
  spreadWords,
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
    ["115um", 0.115],
    ["115 µm", 0.115], // micro sign, U+00B5
    ["115μm", 0.115], // Greek mu, U+03BC
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

// By the definition of the inch, 25.4 mm, and of the minute.
describe("a speed", () => {
  it.each([
    ["300", 300, "mm/s"],
    ["100mm/s", 100, "mm/s"],
    ["6000mm/min", 100, "mm/min"],
    ["6000 MM / MIN", 100, "mm/min"],
    ["4in/s", 101.6, "in/s"],
    ["240in/min", 101.6, "in/min"],
    ["6m/min", 100, "m/min"],
    ["0.1m/s", 100, "m/s"],
    ["10cm/s", 100, "cm/s"],
    ["100mm/sec", 100, "mm/s"],
  ])('"%s" is %d mm/s, shown in %s', (text, mmPerS, speed) => {
    expect(parseSpeedMmPerS("speedMmPerS", text)).toBeCloseTo(mmPerS, 12);
    expect(speedUnits(text)).toEqual({ speed });
  });

  it.each(["", "fast", "100mm", "100mm/h", "100/s", "100mm/minec", "100mm/s2", "1,5m/s", "100 mm per s"])(
    'cannot be "%s"',
    (text) => {
      const error = refusalOf(() => parseSpeedMmPerS("speedMmPerS", text));
      expect(error.message).toMatch(
        /takes a speed such as 300, 300mm\/s, 18000mm\/min or 12in\/s(; write a decimal point: 1\.5m\/s)?; got "/,
      );
      expect(speedUnits(text)).toEqual({});
    },
  );
});

describe("an acceleration", () => {
  it.each([
    ["5000", 5000, "mm/s²"],
    ["3000mm/s2", 3000, "mm/s²"],
    ["3000 mm/s²", 3000, "mm/s²"],
    ["3000mm/s^2", 3000, "mm/s²"],
    ["3m/s2", 3000, "m/s²"],
    ["100in/s2", 2540, "in/s²"],
  ])('"%s" is %d mm/s², shown in %s', (text, mmPerS2, acceleration) => {
    expect(parseAccelerationMmPerS2("accelerationMmPerS2", text)).toBeCloseTo(mmPerS2, 9);
    expect(accelerationUnits(text)).toEqual({ acceleration });
  });

  it.each(["3000mm/s", "3000mm/min2", "3g", ""])('cannot be "%s"', (text) => {
    const error = refusalOf(() => parseAccelerationMmPerS2("accelerationMmPerS2", text));
    expect(error.message).toMatch(
      /takes an acceleration such as 5000, 5000mm\/s2, 5m\/s2 or 200in\/s2; got "/,
    );
  });
});

describe("the unit of a size", () => {
  it.each([
    ["4in", "in"],
    ["3.2..2.4in", "in"],
    ["3.2in..2.4in", "in"],
    ["3.2in..60mm", "mm"],
    ["60mm..2in", "mm"],
    ["80", "mm"],
    ["8cm", "mm"],
  ])('of "%s" is %s', (text, length) => {
    expect(sizeUnits(text)).toEqual({ length });
  });
});

describe("a density", () => {
  it.each([
    ["254", 0.1],
    ["508", 0.05],
    ["10/mm", 0.1],
    ["8.7 / mm", 1 / 8.7],
    ["0.1mm", 0.1],
    ["0.01cm", 0.1],
    ["100um", 0.1],
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

describe("a spread in parts", () => {
  it.each([
    ["local=3%", { local: 0.03 }],
    ["common=8", { common: 0.08 }],
    ["line=0,spot=0%", { line: 0, spot: 0 }],
    [" line = 5 % , local-length = 0.2 cm ", { line: 0.05, localLengthMm: 2 }],
    ["spot=0.5%", { spot: 0.005 }],
    [
      "local-length=0.1in,spot=4%,line=5%,local=3%,common=8%",
      { common: 0.08, local: 0.03, line: 0.05, spot: 0.04, localLengthMm: 2.54 },
    ],
  ])('"%s" is %o', (text, parts) => {
    const found = parseSpreadParts("spread", text);
    expect(Object.keys(found).sort()).toEqual(Object.keys(parts).sort());
    for (const [part, value] of Object.entries(parts))
      expect(found[part as keyof typeof found], part).toBeCloseTo(value, 12);
  });

  it.each(["", "=3%", "local=3%,", ",local=3%", "local=3%;line=5%", "local=3%=4%"])(
    'cannot be "%s", and is told the form',
    (text) => {
      const error = refusalOf(() => parseSpreadParts("spread", text));
      expect(error).toMatchObject({ code: "OPTION_INVALID", option: "spread", received: text });
      expect(error.message).toMatch(/local=3%,line=5%,spot=4%,common=8%,local-length=2mm/);
    },
  );

  it.each([
    ["8%", 'spread has no part "8%". Its parts are common, local, line, spot, local-length.'],
    ["grain=3%", 'spread has no part "grain".'],
    ["lokal=3%", 'spread has no part "lokal". Did you mean local? Its parts'],
    ["Local=3%", 'spread has no part "Local". Did you mean local?'],
    ["localLengthMm=2", 'spread has no part "localLengthMm".'],
    ["toString=3%", 'spread has no part "toString".'],
    ["local", "spread names the part local without a value. Write local=4%."],
    ["line=5%,local=", "spread names the part local without a value. Write local=4%."],
    ["local-length=", "without a value. Write local-length=2mm."],
    ["local=3%,local=4%", "spread gives the part local twice."],
    ["local-length=2mm,local-length=3mm", "spread gives the part local-length twice."],
    ["local=26%", "spread takes 0 to 25 % for the part local; got local=26%."],
    ["line=-1%", "spread takes 0 to 25 % for the part line; got line=-1%."],
    ["local-length=0.05mm", "spread takes 0.1 to 100 mm for the part local-length; got local-length=0.05mm."],
  ])('"%s" is told its fault', (text, words) => {
    const error = refusalOf(() => parseSpreadParts("spread", text));
    expect(error).toMatchObject({ code: "OPTION_INVALID", option: "spread", received: text });
    expect(error.message).toContain(words);
  });

  it.each([
    ["local=much", /a percentage such as 10 or 10%/],
    ["local=3mm", /a percentage such as 10 or 10%/],
    ["line=0.05", /write 5% or/],
    ["local-length=3%", /a length such as/],
    ["local-length=far", /a length such as/],
  ])('"%s" is told what that part takes', (text, allowed) => {
    const error = refusalOf(() => parseSpreadParts("spread", text));
    expect(error).toMatchObject({ code: "OPTION_INVALID", option: "spread" });
    expect(error.message).toMatch(allowed);
  });

  it("is written as it is read", () => {
    const spread = { common: 0.08, local: 0.035, localLengthMm: 2.5, line: 0, spot: 0.05 };
    expect(spreadWords(spread)).toBe("common=8%,local=3.5%,line=0%,spot=5%,local-length=2.5mm");
    expect(parseSpreadParts("spread", spreadWords(spread))).toEqual(spread);
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

describe("a decimal comma", () => {
  const said = (run: () => unknown) => refusalOf(run).message;

  it.each([
    ["0,12mm", "0.12mm"],
    ["0,115 mm", "0.115mm"],
    ["80,5", "80.5"],
  ])("in %s is answered with a point", (text, written) => {
    expect(said(() => parseLengthMm("width", text))).toContain(`write a decimal point: ${written}; got`);
  });

  it("is not seen in thousands or in other texts", () => {
    for (const text of ["1,200mm", "wide", "1,2,3"]) {
      expect(said(() => parseLengthMm("width", text))).not.toContain("decimal point");
    }
  });

  it("is seen in a list where 0 is no value, and separates values elsewhere", () => {
    const spots = listOf({ read: parseSpot });
    expect(said(() => spots.read("spotMm", "0,12mm"))).toContain("write a decimal point: 0.12mm");
    expect(spots.read("spotMm", "0.1,0.2")).toHaveLength(2);
    expect(listOf({ read: parseNumber }).read("sharpen", "0,1")).toEqual([0, 1]);
  });
});
