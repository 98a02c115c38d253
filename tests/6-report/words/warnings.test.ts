import { describe, expect, it } from "vitest";
import type { Report } from "../../../src/6-report/report.js";
import { type WarningFacts, warningsFor } from "../../../src/6-report/words/warnings.js";
import { commandReader } from "../../../src/cli/command-reader.js";
import type { MaterialDoubt } from "../../../src/core/material/material-doubts.js";
import { fidelityWith, job, piece, predicted, steady, wood } from "./flawless-piece.js";

const photo = (photoLpPerMm: number) => ({ detail: { ...piece.detail, photoLpPerMm } });
const ofJob = (changes: Partial<Report["job"]>) => ({ job: { ...job, ...changes } });

function warned(changes: Partial<Report>, facts: Partial<WarningFacts> = {}) {
  return warningsFor({ ...piece, ...changes }, { ...wood, ...facts });
}
const codes = (...args: Parameters<typeof warned>) => warned(...args).map(({ code }) => code);

it("nothing is said of a piece that has nothing wrong", () => {
  expect(warned({})).toEqual([]);
});

describe("a photo with less detail than the lines", () => {
  // A 0.1 mm spot at the matched pitch carries 1/(2 · 0.1) = 5 line pairs per mm.
  it("is no fault of the density taken by default", () => {
    // For a spot of 0.1 mm and this tone range that is 1.97 times the matched 254.
    expect(codes({ ...photo(4), ...ofJob({ linesPerInch: 500 }) })).toEqual([]);
  });

  it("is told that lines beyond the default buy tones, with the matched density named", () => {
    const [warning, ...more] = warned({ ...photo(4), ...ofJob({ linesPerInch: 1016 }) });
    expect(more).toEqual([]);
    expect(warning.code).toBe("photo-coarser-than-density");
    expect(warning.message).toMatch(
      /4\.0 line pairs per mm.* 9\.0: the extra lines gain tones, not detail.* 254 lines/,
    );
    expect(warning.message).not.toMatch(/lose nothing/);
  });

  it("is told to be coarse for the size where even the matched density carries more, whatever the density", () => {
    for (const linesPerInch of [200, 508, 1016]) {
      const [warning, ...more] = warned({ ...photo(1.2), ...ofJob({ linesPerInch }) });
      expect(more).toEqual([]);
      expect(warning.code).toBe("photo-coarse-for-size");
      expect(warning.message).toMatch(/1\.2 line pairs per mm.* 5\.0\. .*larger photo or a smaller piece/);
    }
  });
});

describe("more dose than was measured", () => {
  const beyond = (lightness: number) => ({ lastDose: 1, peakDose: 1.6, lightness, share: 0.231 });

  it("is told with the share of the piece, and what to engrave", () => {
    const [{ message }] = warned(ofJob({ materialSource: "measured" }), { extrapolation: beyond(0.4) });
    expect(message).toMatch(/^23 % of the piece get more dose .* measured up to dose 1 .* centres .* 1\.60/);
    expect(message).toMatch(
      /second test card with 1\.6 × the power .*: testCard\(\)\. Or raise linesPerInch/,
    );
  });

  it("counts less where nobody measured at all", () => {
    const told = (lightness: number) =>
      codes(ofJob({ materialSource: "illustrative" }), { extrapolation: beyond(lightness) });
    expect(told(1)).not.toContain("response-extrapolated");
    expect(told(1.01)).toContain("response-extrapolated");
  });
});

describe("where the material's tones come from", () => {
  it.each([
    ["measured 2026-05-01", []],
    ["Measured on a scrap", []],
    ["illustrative: assumed", ["material-illustrative"]],
    ["Illustrative", ["material-illustrative"]],
    ["a paper on boats, 2018", ["material-not-measured-here"]],
    ["unmeasured guess", ["material-not-measured-here"]],
  ])("source %j: %j", (materialSource, wanted) => {
    expect(codes(ofJob({ materialSource }))).toEqual(wanted);
  });

  it("a material of the user's own is not called a preset, and a citation is quoted", () => {
    const [illustrative] = warned(ofJob({ materialSource: "illustrative" }));
    expect(illustrative.message).toMatch(
      /Nobody measured the tones of driftwood .* test card .*: testCard\(\)\.$/,
    );
    expect(illustrative.message).not.toMatch(/preset/);
    const [cited] = warned(ofJob({ materialSource: "a paper, 2018" }));
    expect(cited.message).toContain("a paper, 2018");
  });

  it("doubts about a material file come first", () => {
    const doubt: MaterialDoubt = { material: "driftwood", doubt: "no-bare-dose", firstDose: 0.1 };
    const warnings = warned(ofJob({ materialSource: "illustrative" }), { materialDoubts: [doubt] });
    expect(warnings.map(({ code }) => code)).toEqual(["material-doubtful", "material-illustrative"]);
    expect(warnings[0]).toMatchObject({
      data: doubt,
      message: expect.stringMatching(/as after dose 0\.1\./),
    });
  });
});

describe("a piece that burns for the most part", () => {
  const burned = (burnFraction: number) => ({ coverage: { ...piece.coverage, burnFraction } });

  it("on a material that lightens, is asked about its background", () => {
    const [warning, ...more] = warned(burned(0.62), { darkens: false });
    expect(more).toEqual([]);
    expect(warning.code).toBe("mostly-burned");
    expect(warning.message).toMatch(/^62 % .*cut it out .*transparent parts stay bare\.$/);
    expect(codes(burned(0.5), { darkens: false })).toEqual([]);
  });

  it("on a material that darkens, is not: there the background is light and stays bare", () => {
    expect(codes(burned(0.62))).toEqual([]);
  });
});

it("a spot above half a millimetre is asked about, whichever way it is wide", () => {
  expect(codes(ofJob({ spotAlongMm: 0.5 }))).toEqual([]);
  const [warning] = warned(ofJob({ spotAlongMm: 0.8 }));
  expect(warning.code).toBe("spot-large");
  expect(warning.message).toMatch(/0\.80 mm is unusually large/);
});

describe("a solid piece", () => {
  const edges: NonNullable<Report["edges"]> = {
    growthAlongMm: 0.013,
    growthAcrossMm: 0.012,
    toleranceMm: 0.004,
    smoothFromMm: 200,
    thinnestMarkMm: 0.067,
    closingGapMm: 0.076,
    thinStrokes: { lengthMm: 0, thinnestMm: 0 },
    closingGaps: { lengthMm: 0, thinnestMm: 0 },
    between: 0.05,
  };
  const solid = { ...ofJob({ kind: "solid", method: "none" }), edges };

  it("without thin parts gives no cause for a warning, steep or not", () => {
    expect(codes(solid)).toEqual([]);
    expect(codes(solid, { materialShape: "steep", methodKeepsMean: false })).toEqual([]);
  });

  it("is told how long and how thin what cannot be engraved as drawn is, from a millimetre up", () => {
    const parts = (lengthMm: number) => ({
      ...solid,
      edges: {
        ...edges,
        thinStrokes: { lengthMm, thinnestMm: 0.021 },
        closingGaps: { lengthMm, thinnestMm: 0.034 },
      },
    });
    expect(codes(parts(0.9))).toEqual([]);
    const [strokes, gaps, ...more] = warned(parts(12.34));
    expect(more).toEqual([]);
    expect([strokes.code, gaps.code]).toEqual(["thin-strokes", "closing-gaps"]);
    expect(strokes.message).toMatch(/^12\.3 mm .*from 0\.021 mm.* 0\.067 mm\. They are kept/);
    expect(gaps.message).toMatch(/^12\.3 mm .*from 0\.034 mm.* wider than 0\.076 mm stay open/);
  });

  it("is told that greys become one or the other", () => {
    expect(codes({ ...solid, edges: { ...edges, between: 0.4 } })).toEqual(["grey-areas"]);
  });

  it("that looks unlike its picture is told so", () => {
    const prediction = predicted({ visualErrorRms: 1.6, expectedVisualError: 1.6, unevenness: 1.6 });
    expect(codes({ ...solid, prediction })).toEqual(["not-as-drawn"]);
  });

  it("that leaves its edges where the pixels are is told of edges, not of tones", () => {
    const [warning] = warned(ofJob({ kind: "solid", method: "threshold", compensated: false }));
    expect(warning.message).toMatch(/^Edges are not moved/);
  });

  it("of which nothing burns is told which way to draw", () => {
    const bare = { ...solid, coverage: { ...piece.coverage, burnFraction: 0 } };
    expect(warned(bare)[0].message).toMatch(/Draw what is to burn dark, /);
    expect(warned(bare, { darkens: false })[0].message).toMatch(/Draw what is to burn light, /);
  });
});

it("a picture that was taken for artwork is told so, and how to have it as a photo", () => {
  const [warning, ...more] = warned(ofJob({ kind: "solid", method: "none", kindGuessed: true }));
  expect(more).toEqual([]);
  expect(warning.code).toBe("taken-for-artwork");
  expect(warning.message).toMatch(/set kind: "photo"\.$/);
});

it("a picture that looks like artwork is pointed to solid artwork, and told how to be left alone", () => {
  const [warning, ...more] = warned({}, { looksLikeArtwork: true });
  expect(more).toEqual([]);
  expect(warning.code).toBe("looks-like-artwork");
  expect(warning.message).toMatch(/kind: "solid", .*kind: "photo"/);
});

describe("a material that chars", () => {
  const dense = (peakDose: number) => ({ coverage: { ...piece.coverage, peakDose } });

  it("is told of where the centres of the lines, or all of a solid, pass the dose from which it does", () => {
    const [centres] = warned(dense(1.4), { charDose: 1.2 });
    expect(centres.code).toBe("char-risk");
    expect(centres.message).toMatch(
      /on the centres of their lines .* 1\.40, and driftwood chars from 1\.2\./,
    );
    expect(warned(dense(1.05), { charDose: 0.9 })[0].message).toMatch(/^Solid parts char at this density/);
  });

  it("is not where they stay below it, or nobody has said", () => {
    expect(codes(dense(1.1), { charDose: 1.2 })).toEqual([]);
    expect(codes(dense(5))).toEqual([]);
  });
});

describe("a machine that varies", () => {
  const variation = {
    ...steady,
    common: { unevenness: 0.4, toneShift: 3.4 },
    local: { unevenness: 2, toneShift: 0.1 },
    line: { unevenness: 1, toneShift: 0 },
  };
  const varied = predicted({ unevenness: Math.hypot(0.5, 0.4, 2, 1), toneShift: 3.5, variation });

  it("shifts a dose-sensitive piece by what one standard deviation of the whole dose does, and a proof tells", () => {
    const [{ code, message }] = warned({ prediction: varied });
    expect(code).toBe("dose-sensitive");
    expect(message).toMatch(
      /one standard deviation \(8 %\), .*lighter or darker by about 3\.4 L\*.*proof first/,
    );
  });

  it("makes a piece uneven, and is told the largest part, the sum and what helps", () => {
    const message = warned({ prediction: varied }).at(-1)?.message;
    // √(2² + 1²) = 2.24.
    expect(message).toMatch(/adds 2\.2 L\* to the 0\.5 of the halftone itself/);
    expect(message).toMatch(/largest part is blotches, because the dose differs by 4 % from place to place/);
    expect(message).toMatch(/"clustered-dot".*flat bed.*smaller figures in spread\.$/);
    expect(message).not.toMatch(/nearer/);
    // The default for a spot of 0.1 mm at this tone range is 1.2 times the matched 254; the piece has 508.
    const steep = warned({ prediction: varied }, { materialShape: "steep", toneRange: 0.546 });
    expect(steep.at(-1)?.message).toMatch(/"clustered-dot".*nearer 305; .*flat bed/);
  });

  it("is not told to clump dots that hang together, or to leave the matched density", () => {
    const matched = ofJob({ method: "green-noise", overdrive: 1.2 });
    const [, { message }] = warned({ prediction: varied, ...matched });
    expect(message).toMatch(/Try a clean, flat bed/);
  });

  it("is told of the robust aim if a search counted on a machine that does not vary", () => {
    const searched = (aim: "nominal" | "robust") => {
      const search = { aim, start: "dose-feedback", passes: 4, lastChanged: 0, settled: true };
      const made = { prediction: varied, ...ofJob({ method: "burn-search", overdrive: 2, search }) };
      return warned(made, { materialShape: "steep", toneRange: 0.546 }).map(({ message }) => message);
    };
    const [overdrive, , uneven] = searched("nominal");
    expect(overdrive).toMatch(/Take about 305 lines per inch, or a search .*\(aim: "robust"\)\. Hold/);
    expect(uneven).toMatch(/Try a search .*\(aim: "robust"\); or fewer lines/);
    expect(searched("robust").join()).not.toMatch(/aim|clustered-dot/);
  });

  it("is told of streaks and of the spot where they are the largest part", () => {
    const largest = (part: "line" | "spot") =>
      warned({
        prediction: predicted({
          unevenness: Math.hypot(0.5, 2),
          variation: { ...steady, [part]: { unevenness: 2, toneShift: 0 } },
        }),
      })[0].message;
    expect(largest("line")).toMatch(/streaks, because the dose differs by 4 % from line to line/);
    expect(largest("spot")).toMatch(/the spot may be 5 % smaller or larger than set/);
  });
});

describe("power levels", () => {
  const onOff = [0.25, 1].map((detailMm) => ({ detailMm, nominal: 20, held: 10 }));
  const held = (fine: number, coarse: number) =>
    [fine, coarse].map((tones, k) => ({
      detailMm: [0.25, 1][k],
      addressable: 99,
      nominal: 20,
      held: tones,
    }));
  const levels = (
    tones: [number, number],
    changes: Partial<NonNullable<Report["powerLevels"]>> = {},
    method = "stucki",
  ): Partial<Report> => ({
    ...ofJob({ levels: 16, method, overdrive: 1 }),
    tonalResolution: held(...tones),
    powerLevels: {
      beamOnFraction: 0.9,
      largestStepLightness: 4,
      largestStepShare: 0.1,
      largestSwingLightness: 9,
      onOff,
      ...changes,
    },
  });

  it("are not worth it unless held tones gain a tenth in the mean of a fine and a coarse detail", () => {
    expect(codes(levels([12, 12]))).toEqual([]);
    expect(codes(levels([20, 6.5]))).toEqual([]);
    expect(codes(levels([20, 5.5]))).toEqual(["levels-no-gain"]);
    expect(codes(levels([10.9, 10.9]))).toEqual(["levels-no-gain"]);
  });

  it("say what a steep material does, and by how much", () => {
    const [{ message }] = warned(levels([11, 9], { largestStepShare: 0.82 }), { materialShape: "steep" });
    expect(message).toContain("driftwood changes too suddenly with the dose");
    expect(message).toContain(
      "changes by up to 9 L* between doses of −4 % and +4 %, the standard deviation from place to place, and 82 % of all change in lightness lies between two",
    );
    expect(message).toContain("a 0.25 mm detail holds 11.0 tones, with on and off 10.0");
    expect(message).toContain("Leave levels at 2. If your dose is steadier, give smaller figures in spread.");
    const [{ message: gradual }] = warned(levels([11, 9]));
    expect(gradual).toContain(
      ". A fill at part power changes by up to 9 L* between doses of −4 % and +4 %, the standard deviation from place to place. Leave",
    );
  });

  it("may band where nothing mixes them", () => {
    expect(codes(levels([20, 20], { largestStepLightness: 1.2 }, "threshold"))).toEqual(["levels-band"]);
    expect(codes(levels([20, 20], { largestStepLightness: 0.8 }, "threshold"))).toEqual([]);
    expect(codes(levels([20, 20], { largestStepLightness: 1.2 }))).toEqual([]);
  });

  it("say nothing of tones that nobody has counted", () => {
    const { onOff: _, ...uncounted } = levels([5, 5]).powerLevels ?? {};
    expect(
      codes({ ...levels([5, 5]), powerLevels: uncounted as NonNullable<Report["powerLevels"]> }),
    ).toEqual([]);
  });
});

describe("a source that answers late", () => {
  const lagging = (limitedBy: "firing" | "spot", photoLpPerMm = 10) => ({
    detail: {
      ...piece.detail,
      photoLpPerMm,
      alongLimits: {
        spotLpPerMm: 7,
        pitchLpPerMm: 10,
        firingLpPerMm: 5.5,
        limitedBy,
        firingFreeUpToMmPerS: 183.7,
      },
    },
  });

  it("is warned of where it blurs more than spot and pitch, with the speed that does not", () => {
    const [warning, ...more] = warned(lagging("firing"));
    expect(more).toEqual([]);
    expect(warning.code).toBe("firing-blurs");
    expect(warning.message).toMatch(
      /^At 300 mm\/s .*5\.5 line pairs per mm.* 7\.0\. Up to 183 mm\/s.*speedMmPerS/,
    );
  });

  it("is not where spot or pitch bind, or the photo has nothing that fine", () => {
    expect(codes(lagging("spot"))).toEqual([]);
    expect(codes(lagging("firing", 5.4))).toEqual([]);
  });
});

describe("a source that starts later than it stops", () => {
  const losing = (px: number) => ({
    detail: {
      ...piece.detail,
      alongLimits: { ...piece.detail.alongLimits, firingLossMm: px * piece.job.pitchAlongMm },
    },
  });

  it("is warned of with what is left of a pixel, and the speed at which it hardly matters", () => {
    const [warning, ...more] = warned(losing(0.2), { firingLossUs: 33 });
    expect(more).toEqual([]);
    expect(warning.code).toBe("bursts-shortened");
    // A tenth of a pixel at half the 300 mm/s.
    expect(warning.message).toMatch(
      /^At 300 mm\/s the source starts 33 µs late \(firingLossUs\): every burst is 0\.20 pixels too short, and a lone pixel keeps 80 % .*Up to 150 mm\/s .*speedMmPerS/,
    );
  });

  it("or stops later, with the gaps that it leaves", () => {
    const [warning] = warned(losing(-1.2), { firingLossUs: -200 });
    expect(warning.message).toMatch(
      /source stops 200 µs late .*1\.20 pixels too long, and a gap of one pixel closes\./,
    );
    expect(codes(losing(0.09), { firingLossUs: 15 })).toEqual([]);
  });

  it("says that a pixel of which nothing is left vanishes, and a loss under a microsecond with its digits", () => {
    const [gone] = warned(losing(0.997), { firingLossUs: 0.4 });
    expect(gone.message).toMatch(/starts 0\.40 µs late .*and a lone pixel vanishes\./);
    const [almost] = warned(losing(0.99), { firingLossUs: 7 });
    expect(almost.message).toMatch(/starts 7\.0 µs late .*a lone pixel keeps 1 % of its length/);
  });

  it("and is sent to larger dots only if it has small ones", () => {
    const said = (method: string) =>
      warned({ ...losing(0.2), ...ofJob({ method }) }, { firingLossUs: 33 })[0].message;
    expect(said("floyd-steinberg")).toMatch(/method: "green-noise"/);
    expect(said("clustered-dot")).not.toMatch(/green-noise/);
  });
});

describe("tones that are too faint", () => {
  const faint = fidelityWith({
    lostShare: 0.72,
    lost: { levels: 0, bare: 0, solid: 0, faint: 0.72, colours: 0 },
  });
  const advice = (gapMm: number) =>
    warned({ fidelity: faint, coverage: { ...piece.coverage, gapMm } }).find(
      ({ code }) => code === "distinctions-lost",
    )?.message;

  it("between lines with bare gaps need more lines first, and otherwise contrast", () => {
    expect(advice(0.408)).toMatch(/where\. Raise linesPerInch first: bare strips of 0\.408 mm/);
    expect(advice(0.408)).not.toMatch(/contrast|larger|wider/);
    expect(advice(0)).toMatch(/where\. Raise contrast or localContrast, .* wider range than driftwood/);
  });
});

const even = { least: 1, most: 1 };
const coneFigures = {
  ...{ slantHeightMm: 50, axialHeightMm: 49, halfAngleDeg: 11, sectorAngleDeg: 72 },
  ...{ sectorInnerRadiusMm: 100, sectorOuterRadiusMm: 150 },
  ...{ pitchAlongMm: even, overdriveAlong: even, doseFactor: even },
};

describe("a photo that is cut to shape", () => {
  const shown = (shownShare: number) => ({ input: { ...piece.input, shownShare } });

  it("is told how little is left, and what keeps more", () => {
    const [warning, ...more] = warned(shown(0.27));
    expect(more).toEqual([]);
    expect(warning.code).toBe("much-cut-off");
    expect(warning.message).toMatch(/^Only 27 % .* its middle: .* 80 × 60 mm.*fit: "contain".*focus/);
    const focused = { ...shown(0.27), ...ofJob({ focus: { xPx: 10, yPx: 20 } }) };
    expect(warned(focused)[0].message).toMatch(/around the focus: .* beside it\.$/);
  });

  it("is told the size of the picture, which a bent bitmap exceeds", () => {
    const placed = { pictureWidthMm: 3, pictureHeightMm: 1, angleDeg: 0, startAngleDeg: 350 };
    const around = { topDiameterMm: 60, bottomDiameterMm: 40, circumferenceMm: 157 };
    const job = ofJob({
      ...{ widthMm: 3.81, heightMm: 1.78 },
      around: { ...around, placed: { ...placed, startAlongMm: 1, turnDeg: 8 } },
    });
    expect(warned({ ...shown(0.27), ...job })[0].message).toContain("to fill 3 × 1 mm");
  });

  // "focus-on-flat-cone" refuses a focus there (core/refusals/piece.ts).
  it("is not sent to a focus where there can be none", () => {
    const around = { topDiameterMm: 60, bottomDiameterMm: 40, circumferenceMm: 157 };
    const said = (layout: "flat" | "level") => {
      const cone = { layout, ...coneFigures };
      return warned({ ...shown(0.27), ...ofJob({ around: { ...around, cone } }) }).find(
        ({ code }) => code === "much-cut-off",
      )?.message;
    };
    expect(said("flat")).toMatch(/beside it\. crop sets what must stay in view\.$/);
    expect(said("level")).toMatch(/beside it\. focus sets/);
  });

  it("is not over what one usual shape loses to another: two thirds of 3:2 are square", () => {
    expect(codes(shown(2 / 3))).toEqual([]);
  });
});

it("a user of the command is told of flags, with the same figures", () => {
  const facts = { ...wood, looksLikeArtwork: true, negativeIdle: true };
  const cut = { ...piece, ...ofJob({ compensated: false }), input: { ...piece.input, shownShare: 0.3 } };
  const [forLibrary, forCommand] = [undefined, commandReader].map((reader) =>
    warningsFor(cut, facts, reader),
  );
  expect(forCommand.map(({ code, data }) => [code, data])).toEqual(
    forLibrary.map(({ code, data }) => [code, data]),
  );
  const [artwork, idle, cutOff, plain] = forCommand.map(({ message }) => message);
  expect(artwork).toMatch(/--kind solid.*--kind photo/);
  expect(idle).toMatch(/^--negative changes nothing/);
  expect(cutOff).toMatch(/--fit contain.*--focus/);
  expect(plain).toMatch(/Remove --no-compensate/);
});

describe("odd lines that lie aside", () => {
  // |cos(π f Δ)| is a half at f = 1/(3Δ): 2.2 line pairs per mm at 0.15 mm, 8.3 at 0.04 mm; the spot leaves half at 7.
  it("are warned of where they cost more than spot and pitch", () => {
    const [warning, ...more] = warned({}, { lineShiftMm: -0.15 });
    expect(more).toEqual([]);
    expect(warning.code).toBe("lines-shifted");
    expect(warning.message).toMatch(/shifted by 0\.150 mm.* 2\.2 line pairs per mm/);
    expect(codes({}, { lineShiftMm: 0.04 })).toEqual([]);
    expect(codes({}, { lineShiftMm: 0 })).toEqual([]);
  });

  it("are not for a solid piece, whose edges are placed with the shift", () => {
    expect(codes(ofJob({ kind: "solid", method: "none" }), { lineShiftMm: 0.15 })).toEqual([]);
  });
});

describe("a clustered-dot screen", () => {
  const screen = {
    ...{ askedLinesPerInch: 40, usualLinesPerInch: 127, fittingLinesPerInch: 127 },
    ...{ cellPx: 161, periodSpots: 6.35, isDispersed: false },
  };
  const grainy: Partial<Report> = { prediction: predicted({ visualErrorRms: 1.5 }) };
  const dotted: Partial<Report> = { ...ofJob({ method: "clustered-dot" }), ...grainy };

  it("of a coarse ruling of its own is told that ruling, and no other method", () => {
    const [{ code, message }] = warned(dotted, { screen });
    expect(code).toBe("visible-grain");
    expect(message).toContain(
      "40 rows of dots per inch, where this spot can hold 127. Raise screenLinesPerInch",
    );
    expect(message).not.toContain("try another");
    const [{ message: usual }] = warned(dotted, { screen: { ...screen, askedLinesPerInch: 127 } });
    expect(usual).toContain("Raise the density or try another method");
  });

  it("that is too fine is told what happens to its dots, and a ruling that holds them", () => {
    const fine = {
      ...screen,
      askedLinesPerInch: 400,
      cellPx: 1.6,
      periodSpots: 0.6,
      fittingLinesPerInch: 100,
    };
    const [{ message: apart }] = warned({}, { screen: { ...fine, isDispersed: true } });
    expect(apart).toMatch(
      /^A screen of 400 .* 1\.6 pixels\. The dots fall apart .*screenLinesPerInch to 100 or less/,
    );
    const [{ message: together }] = warned({}, { screen: fine });
    expect(together).toContain("its dots are 0.6 spots apart, so the spot runs them together");
  });
});
