import type { Report, Warning } from "./report.js";

/** A flat tint, engraved as the candidate engraves this tone of its photo. */
export interface CandidateTint {
  /** L* of the photo, 0..100. */
  readonly photoLightness: number;
  /** Root mean square of the lightness that the eye sees fluctuate, in L*; about 1 is just noticeable. */
  readonly graininess: number;
  /** Of its dots; absent where all pixels are the same. See `Texture` of the burn stage. */
  readonly texture?: {
    readonly fraction: number;
    readonly principalFrequency: number;
    readonly peakFrequency: number;
    readonly lowFrequencyPower: number;
    readonly anisotropyDb: number;
    readonly spectrum: readonly number[];
  };
}

/** One way to prepare the photo: the figures of its report, and what only a comparison tells. Visual errors are in L*, rms. */
export interface Candidate {
  readonly method: string;
  readonly linesPerInch: number;
  readonly material: string;
  readonly toneMap: Report["job"]["toneMap"];
  readonly levels: number;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  /** Against what the photo asks for, at the nominal dose. */
  readonly visualErrorRms: number;
  readonly visualErrorBias: number;
  /** At the doses 1 − s and 1 + s of the process spread. */
  readonly visualErrorUnderdosed: number;
  readonly visualErrorOverdosed: number;
  /** Mean over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  /** With a spot a tenth smaller, and a tenth larger, than the one that tones were corrected for. */
  readonly visualErrorSmallerSpot: number;
  readonly visualErrorLargerSpot: number;
  readonly tonalResolution: NonNullable<Report["tonalResolution"]>;
  /** Only where there are fewer different tints than the tones asked for: held tones beyond them are steps between nothing. */
  readonly differentTints?: number;
  readonly tints: { readonly mid: CandidateTint; readonly light: CandidateTint };
  /** Share of pixels that burn. */
  readonly burnFraction: number;
  readonly switching: {
    /** From off to on or back, the mean over lines that burn. */
    readonly transitionsPerLine: number;
    /** Shortest stretch of a line without the beam going off: its length, and its time at the job's speed. */
    readonly shortestBurstMm: number;
    readonly shortestBurstUs: number;
    /** That time in time constants of the source; only with a firing lag. */
    readonly shortestBurstInLags?: number;
    readonly meanBurstMm: number;
  };
  readonly seconds: number;
  readonly beamOnSeconds: number;
  /** Of the run time, 0..1. */
  readonly beamOnShare: number;
  /** Those of its report. */
  readonly warnings: readonly Warning[];
}

/** Something for each of the three that a comparison points out. */
export interface ForWinners<T> {
  /** Least visual error at the nominal dose. */
  readonly nominal: T;
  /** Least expected visual error. */
  readonly robust: T;
  /** Least run time of those whose expected visual error is not much above the least. */
  readonly fast: T;
}

/** The same photo prepared in several ways. Its keys are promised; more may be added. */
export interface Comparison {
  readonly tool: Report["tool"];
  readonly photo: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly doseSpread: number;
  readonly candidates: readonly Candidate[];
  /** Indices. */
  readonly winners: ForWinners<number>;
  /** Why each has won, in words. */
  readonly reasons: ForWinners<string>;
}
