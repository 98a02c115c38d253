/*
 * Published and derived check values (tests/data/check-values.json) against the closed-form physics.
 * Each entry states its own source, inputs and tolerance; entries about Exif orientation (exif.orient.*) are
 * run through the decoder elsewhere.
 *
 * Left out of the file, because nothing in the library computes them:
 *   de2000.*                 CIEDE2000: tones are counted in steps of L*
 *   km.*                     Kubelka–Munk: a material is a measured table, not a scattering layer
 *   yn.*                     Yule–Nielsen: the exposure model predicts the spread of marks itself
 *   neugebauer.*             one kind of mark only
 *   md.R.*, md.area.*        Murray–Davies mixing: the model averages the simulated surface instead
 *   bl.*, pmma.*             Beer–Lambert and removed depth: no depth is predicted
 *   csf.*, vtf.*             the eye is the exponential of Näsänen (1984)
 *   graininess.*             no graininess figure is reported
 *   noise.*                  noise of random dither is measured on the simulated piece
 *   screen.*                 no screen ruling is reported
 *   wood.dL.*                measurements, with no formula to run
 *   mtf.esfr.sigma1.dcorr    no slanted-edge measurement
 *   time.ratio.trade, time.trade.slope, time.trade.intercept   arithmetic on two reported times only
 */

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as coverage from "../../../src/core/physics/coverage.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../../src/core/physics/lightness.js";
import * as dose from "../../../src/core/physics/line-dose.js";
import * as modulation from "../../../src/core/physics/modulation.js";
import * as optics from "../../../src/core/physics/optics.js";
import * as timing from "../../../src/core/physics/raster-timing.js";
import {
  linearFromSrgb,
  luminanceFromLinearRgb,
  reflectionDensity,
  srgbFromLinear,
} from "../../../src/core/physics/transfer.js";
import * as units from "../../../src/core/units.js";

/** Inputs that are single numbers, by name. */
type Numbers = Record<string, number>;

/** Inputs that are lists, by name. */
type Lists = Record<string, number[]>;

interface Entry {
  id: string;
  inputs: Record<string, number | number[]>;
  expected: number | number[];
  tolerance: number;
  tolerance_kind: "rel" | "abs";
  source: string;
}

type Run = (numbers: Numbers, lists: Lists) => number | number[];

const beam = (n: Numbers): optics.FocusedBeam => ({
  propagationRatio: n.M2,
  wavelengthMm: n.wavelength_mm,
  focalLengthMm: n.f_mm,
  inputDiameterMm: n.D_mm,
});

const job = (n: Numbers, stepTimeS: number): timing.RasterJob => ({
  widthMm: n.width_mm,
  lines: n.lines,
  speedMmPerS: n.v_mm_s,
  accelerationMmPerS2: n.a_mm_s2,
  stepTimeS,
});

const sharp: modulation.ExposureBlur = { spotDiameterMm: 0, holdMm: 0, speedMmPerS: 0, lagUs: 0 };

/** The fit of squared widths in µm²; length units pass through, so µm go in and come out. */
const liuFit = (lists: Lists): dose.ThresholdFit =>
  dose.fitSpotAndThreshold(lists.F0_J_cm2, lists.D2_um2.map(Math.sqrt));

/** Job time of a full picture at one density over that at another, all else equal. */
const timeRatio = (linesPerInch: number, otherLinesPerInch: number): number => {
  const full = (lines: number) =>
    timing.twoWayJobTimeS(job({ width_mm: 100, v_mm_s: 500, a_mm_s2: 10000, lines }, 0));
  return full(linesPerInch) / full(otherLinesPerInch);
};

/** How each entry is computed, by id; `*` stands for any text. */
const runs: Record<string, Run> = {
  "beam.focus.*.d": (n) => optics.focusedDiameterMm(beam(n)),
  "beam.focus.*.zR": (n) => optics.rayleighRangeMm(n.d_mm, n.M2, n.wavelength_mm),
  "beam.focus.*.dof5": (n) => optics.depthOfFocusMm(n.zR_mm, 0.05),
  "beam.defocus.*": (n) => optics.defocusedDiameterMm(n.d0_mm, n.zR_mm, n.z_mm),
  "beam.m2.from-caustic": (n) => optics.propagationRatioFromCaustic(n.d0_mm, n.Theta_rad, n.wavelength_mm),
  "beam.abcd.finite": (n) => optics.finiteFocusedDiameterMm(beam(n)),
  // With w = 1 the 1/e² diameter is 2.
  "beam.width.fwhm_over_w": () => units.fwhmMmFromSpotDiameterMm(2),
  "beam.width.fwhm_over_d": () => units.fwhmMmFromSpotDiameterMm(1),
  "beam.width.w_over_fwhm": () => units.spotDiameterMmFromFwhmMm(1) / 2,
  "beam.width.d4sigma_over_w": () => 4 * units.sigmaMmFromSpotDiameterMm(2),
  "beam.width.1e_over_1e2": () => units.oneOverEDiameterMmFromSpotDiameterMm(1),
  "beam.encircled.*": (n) => optics.encircledPower(n.k, 2),

  "optics.znse.*": (n, lists) => {
    expect(optics.ZINC_SELENIDE).toEqual(
      lists.A.map((strength, i) => ({ strength, resonanceUm: lists.B[i] })),
    );
    return optics.refractiveIndex(n.wavelength_um, optics.ZINC_SELENIDE);
  },
  "optics.sa.k.planoconvex": (n) => optics.aberrationCoefficient(n.n, n.q),
  "optics.sa.k.reversed": (n) => optics.aberrationCoefficient(n.n, n.q),
  "optics.sa.k.bestform*": (n) => optics.aberrationCoefficient(n.n, optics.bestFormShapeFactor(n.n)),
  "optics.sa.q.bestform": (n) => optics.bestFormShapeFactor(n.n),
  "optics.sa.blur.*": (n) => optics.aberrationBlurMm(n.k, n.D_mm, n.f_mm),
  "optics.sa.optimum.D": (n) => optics.bestInputDiameterMm(beam(n), n.k),
  "optics.sa.optimum.ratio": () => {
    const lens = { propagationRatio: 1.2, wavelengthMm: 0.0106, focalLengthMm: 63.5 };
    const inputDiameterMm = optics.bestInputDiameterMm(lens, 0.0285879);
    const blurMm = optics.aberrationBlurMm(0.0285879, inputDiameterMm, lens.focalLengthMm);
    return blurMm / optics.focusedDiameterMm({ ...lens, inputDiameterMm });
  },

  "fluence.peak": (n) =>
    units.joulesPerCm2FromJoulesPerMm2(dose.peakFluenceJPerMm2(n.E_mJ / 1000, (2 * n.w0_um) / 1000)),
  "liu.D.*": (n) => dose.markedWidthMm(2 * n.w0_um, n.ratio),
  "liu.fit.w0": (_, lists) => liuFit(lists).spotDiameterMm / 2,
  "liu.fit.Fth": (_, lists) => liuFit(lists).threshold,
  "liu.incubation": (n) => dose.incubatedThreshold(n.Fth1, n.xi, n.N),
  "line.dose.peak": (n) => dose.linePeakDoseJPerMm2(n.P_W, n.v_mm_s, 2 * n.w_mm),
  "line.dose.offset": (n) => dose.lineDoseAtOffset(n.H0_J_mm2, n.y_mm, 2 * n.w_mm),
  "line.dose.mean": (n) => dose.meanArealDoseJPerMm2(n.P_W, n.v_mm_s, n.pitch_mm),
  "line.width.threshold": (n) => dose.markedWidthMm(2 * n.w_mm, n.H0_J_mm2 / n.Hth_J_mm2),
  "line.dwell": (n) => dose.dwellTimeS(n.d_mm, n.v_mm_s),
  "pixel.energy": (n) => dose.energyPerPixelJ(n.P_W, n.pitch_mm, n.v_mm_s),
  "dose.beech.*": (n) =>
    units.joulesPerCm2FromJoulesPerMm2(dose.meanArealDoseJPerMm2(n.P_W, n.v_mm_s, n.d_mm)),
  "ripple.modulation.*": (n) => dose.rippleModulation(n.pitch_over_d),
  "ripple.minmax.*": (n) => {
    const { min, max } = dose.rippleExtremes(n.pitch_over_d);
    return [min, max];
  },
  "ripple.pitch.*": (n) => dose.largestPitchOverDiameter(n.c),
  "ripple.pitch_over_fwhm.*": (n) => dose.largestPitchOverDiameter(n.c) / units.fwhmMmFromSpotDiameterMm(1),

  "density.*.pitch": (n) => units.pitchMmFromLinesPerInch(n.lpi),
  "density.*.overlap": (n) => coverage.lineOverlap(units.pitchMmFromLinesPerInch(n.lpi), n.d_mm),
  "density.*.exposures": (n) => coverage.meanPasses(units.pitchMmFromLinesPerInch(n.lpi), n.d_mm),
  "density.*.linecover": (n) => coverage.lineCoverage(units.pitchMmFromLinesPerInch(n.lpi), n.d_mm),
  "density.*.gap": (n) => coverage.gapMm(units.pitchMmFromLinesPerInch(n.lpi), n.d_mm),
  "density.match": (n) => units.linesPerInchFromPitchMm(n.d_mm),
  "density.dots.full": (n) => units.linesPerInchFromPitchMm(coverage.gapFreeDiscPitchMm(n.d_mm)),
  "density.optical.*": (n) => reflectionDensity(n.R),
  "density.from-lstar.*": (n) => reflectionDensity(luminanceFromLightness(n.L)),
  "md.D.*": (n) => reflectionDensity(n.R),
  "overlap.area.*": (n) => coverage.commonDiscAreaMm2(1, n.x) / coverage.discAreaMm2(1),
  "cover.square.*": (n) => {
    if (n.dpi === undefined) return coverage.discCoverage(n.x, 1, 1);
    const pitchMm = units.pitchMmFromLinesPerInch(n.dpi);
    return coverage.discCoverage(n.d_mm, pitchMm, pitchMm);
  },
  "cover.rect": (n) => coverage.discCoverage(n.d_mm, n.px_mm, n.py_mm),
  "cover.random.*": (n) => coverage.randomTintCoverage(n.x, 1, n.a),
  "cover.stadium.*": (n) => coverage.isolatedPixelMarkRatio(n.d_mm, n.p_mm, n.p_mm),
  "levels.cell.*": (n) => coverage.addressableLevels(n.m ** 2, 1, 1),

  "srgb.linear.*": (n) => linearFromSrgb(n.code / 255),
  "srgb.encode.*": (n) => srgbFromLinear(n.linear),
  "lum709.*": (_, lists) => {
    const [red, green, blue] = lists.rgb.map((code) => linearFromSrgb(code / 255));
    return luminanceFromLinearRgb(red, green, blue);
  },
  "lstar.0.*": (n) => lightnessFromLuminance(n.Y),
  "lstar.inv.*": (n) => luminanceFromLightness(n.L),
  "lstar.grey.*": (n) => lightnessFromLuminance(linearFromSrgb(n.code / 255)),

  "mtf.gauss.2": (n) => modulation.spotModulation(n.f_c_mm, 2 * n.w_mm),
  "mtf.gauss.5": (n) => modulation.spotModulation(n.f_c_mm, 2 * n.w_mm),
  "mtf.gauss.8.696": (n) => modulation.spotModulation(n.f_c_mm, 2 * n.w_mm),
  "mtf.gauss.limit.0.*": (n) => modulation.spotLimitPerMm(2 * n.w_mm, n.m),
  "mtf.gauss.limit.times-d.*": (n) => modulation.spotLimitPerMm(1, n.m),
  "mtf.pixel.limit.*": (n) => modulation.exposureLimitPerMm({ ...sharp, holdMm: 1 }, n.m),
  "mtf.pixel.nyquist": () => modulation.holdModulation(modulation.nyquistPerMm(1), 1),
  "mtf.system.limit.*": (n) =>
    modulation.exposureLimitPerMm({ ...sharp, spotDiameterMm: 2 * n.w_mm, holdMm: n.p_mm }, n.m),
  "mtf.esfr.sigma1": (n) => modulation.spotLimitPerMm(4 * n.sigma_px, 0.5),
  "mtf.response": (n) => modulation.lagModulation(n.f_c_mm, n.v_mm_s, n.tau_us),
  "nyquist.*": (n) => modulation.nyquistPerMm(units.pitchMmFromLinesPerInch(n.lpi)),
  "acuity.ppi.*": (n) => units.linesPerInchFromPitchMm(modulation.acuityMm(n.D_mm)),
  "acuity.line150": (n) => modulation.visualAngleArcmin(units.pitchMmFromLinesPerInch(n.lpi), n.D_mm),
  "acuity.*0": (n) => modulation.acuityMm(n.D_mm),
  "cpd.3*": (n) => modulation.perMmFromCyclesPerDegree(1, n.D_mm),
  "cpd.lines.*": (n) =>
    modulation.cyclesPerDegreeFromPerMm(
      units.linesPerMmFromPitchMm(units.pitchMmFromLinesPerInch(n.lpi)),
      n.D_mm,
    ),

  "time.bidir.*": (n) => timing.twoWayJobTimeS(job(n, 0)),
  "time.overscan.*": (n) => timing.runUpMm(n.v_mm_s, n.a_mm_s2),
  "time.unidir": (n) => timing.oneWayJobTimeS(job(n, 0), n.vr_mm_s),
  "time.step.tri": (n) => timing.moveTimeS(n.p_mm, n.a_mm_s2),
  "time.withstep": (n) => timing.twoWayJobTimeS(job(n, n.step_s)),
  "time.vopt": (n) => timing.speedOfMinLineTimeMmPerS(n.width_mm, n.a_mm_s2),
  "time.tmin": (n) => timing.minLineTimeS(n.width_mm, n.a_mm_s2),
  "time.ratio.lines": () => timeRatio(800, 300),
  "time.trade.error": () => (12.5 * timeRatio(800, 300)) / 33 - 1,
  "pixel.rate": (n) => timing.pixelRateHz(n.v_mm_s, n.p_mm),
  "bidir.shift": (n) => timing.twoWayShiftMm(n.v_mm_s, n.delay_us),

  "png.phys.back.*": (n) => units.linesPerInchFromPitchMm(units.pitchMmFromPixelsPerMetre(n.ppm)),
  "png.phys.*": (n) => units.pixelsPerMetreFromPitchMm(units.pitchMmFromLinesPerInch(n.dpi)),
  "tiff.cm.*": (n) => units.linesPerInchFromPitchMm(units.pitchMmFromPixelsPerCm(n.res)),
  "jfif.cm.*": (n) => units.linesPerInchFromPitchMm(units.pitchMmFromPixelsPerCm(n.res)),
  "bmp.ppm.*": (n) => units.pixelsPerMetreFromPitchMm(units.pitchMmFromLinesPerInch(n.dpi)),
  "size.mm": (n) => units.lengthMmFromPitchCount(n.pixels, units.pitchMmFromLinesPerInch(n.dpi)),
  "lines.count": (n) => units.pitchCountFromLengthMm(n.height_mm, units.pitchMmFromLinesPerInch(n.lpi)),
};

const patterns = Object.keys(runs).map((pattern) => ({
  pattern,
  matches: new RegExp(`^${pattern.replaceAll(".", "\\.").replaceAll("*", ".*")}$`),
}));

/** The first pattern that matches an id, so that a narrower pattern stands before a wider one. */
function patternFor(id: string): string | undefined {
  return patterns.find(({ matches }) => matches.test(id))?.pattern;
}

const file = new URL("../../data/check-values.json", import.meta.url);
const entries = (JSON.parse(readFileSync(file, "utf8")) as Entry[]).filter(
  ({ id }) => !id.startsWith("exif.orient."),
);

function compute({ id, inputs }: Entry): number[] {
  const pattern = patternFor(id);
  if (pattern === undefined) throw new Error(`no function is mapped to ${id}`);
  const numbers: Numbers = {};
  const lists: Lists = {};
  for (const [name, value] of Object.entries(inputs)) {
    if (Array.isArray(value)) lists[name] = value;
    else numbers[name] = value;
  }
  return [runs[pattern](numbers, lists)].flat();
}

describe("check values", () => {
  it("all are here", () => {
    expect(entries.length).toBe(223);
  });

  it("every function mapped is used by an entry", () => {
    const used = new Set(entries.map(({ id }) => patternFor(id)));
    expect(Object.keys(runs).filter((pattern) => !used.has(pattern))).toEqual([]);
  });

  for (const entry of entries) {
    it(`${entry.id} (${entry.source})`, () => {
      const actual = compute(entry);
      const expected = [entry.expected].flat();
      expect(actual.length).toBe(expected.length);
      expected.forEach((value, i) => {
        const allowed = entry.tolerance * (entry.tolerance_kind === "rel" ? Math.abs(value) : 1);
        expect(Math.abs(actual[i] - value), `${actual[i]} for ${value}`).toBeLessThanOrEqual(allowed);
      });
    });
  }
});
