import type { GivenBy } from "../core/reader.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Spread } from "../core/spread.js";
import type { Report, Warning } from "./report.js";

/** A flat tint, engraved as the candidate engraves this tone of its photo. */
export interface CandidateTint {
  /** L* of the photo, 0..100. */
  readonly photoLightness: number;
  /** Root mean square of the lightness that the eye sees fluctuate, in L*; about 1 is just noticeable. */
  readonly graininess: number;
  /** Of its dots; absent if all pixels are the same. See `Texture` of the burn stage. */
  readonly texture?: {
    readonly fraction: number;
    readonly principalFrequency: number;
    readonly peakFrequency: number;
    readonly lowFrequencyPower: number;
    readonly anisotropyDb: number;
    readonly spectrum: readonly number[];
  };
}

/** One way to prepare the photo: the figures of its report, and those that only a comparison has. Visual errors are in L*, rms. */
export interface Candidate {
  readonly method: string;
  readonly linesPerInch: number;
  readonly material: string;
  readonly toneMap: Report["job"]["toneMap"];
  readonly levels: number;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  /** Against the target of the photo, at the nominal dose. */
  readonly visualErrorRms: number;
  readonly visualErrorBias: number;
  /** With the dose of the whole piece one standard deviation lower or higher (`spread.common`). */
  readonly visualErrorUnderdosed: number;
  readonly visualErrorOverdosed: number;
  /** √(unevenness² + (toneShift/3)²), under the variation of the machine. */
  readonly expectedVisualError: number;
  /** What is uneven within the piece: grain, blotches and streaks. */
  readonly unevenness: number;
  /** What makes all tones lighter or darker. Only a proof beside the piece shows it. */
  readonly toneShift: number;
  /** With a spot one standard deviation smaller or larger than the one for which tones were corrected (`spread.spot`). */
  readonly visualErrorSmallerSpot: number;
  readonly visualErrorLargerSpot: number;
  readonly tonalResolution: NonNullable<Report["tonalResolution"]>;
  /** Number of different tints, only if it is smaller than the number of tested tones. More held tones than tints do not exist. */
  readonly differentTints?: number;
  readonly tints: { readonly mid: CandidateTint; readonly light: CandidateTint };
  /** Share of pixels that burn. */
  readonly burnFraction: number;
  readonly switching: {
    /** From off to on or back, the mean over lines that burn. */
    readonly transitionsPerLine: number;
    /** The shortest part of a line with the beam on: its length, and its time at the job's speed. */
    readonly shortestBurstMm: number;
    readonly shortestBurstUs: number;
    /** That time in time constants of the source; only with a firing lag. */
    readonly shortestBurstInLags?: number;
    /** That time over the firing loss; only with a loss above 0. At 1 or less the burst leaves no mark. */
    readonly shortestBurstInLosses?: number;
    readonly meanBurstMm: number;
  };
  readonly seconds: number;
  readonly beamOnSeconds: number;
  /** Of the run time, 0..1. */
  readonly beamOnShare: number;
  /** The warnings of its report. */
  readonly warnings: readonly Warning[];
}

/** Something for each of the three winners of a comparison. */
export interface ForWinners<T> {
  /** Smallest visual error at the nominal dose. */
  readonly nominal: T;
  /** Smallest expected visual error. */
  readonly robust: T;
  /** Shortest run time, if it saves at least a tenth without a noticeable cost; otherwise the same as `robust`. */
  readonly fast: T;
}

/** What to take, and why. */
export interface ComparedChoice {
  /** Indices, one for each material: errors on different materials cannot be compared. */
  readonly candidates: readonly number[];
  /** In one sentence. */
  readonly sentence: string;
}

/** A method that was not compared, because it does not fit the job. */
export interface LeftOut {
  readonly method: string;
  readonly linesPerInch: number;
  /** Why, in words. */
  readonly reason: string;
}

/** The same photo prepared in several ways. Its keys are promised; more may be added. */
export interface Comparison {
  readonly tool: Report["tool"];
  /** The units of sizes and speeds in its words. */
  readonly units: ShownUnits;
  readonly photo: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Common part of the spread as three equal weights 1 − s, 1, 1 + s. */
  readonly doseSpread: number;
  /** Variation of the machine in four parts, relative standard deviations. */
  readonly spread: Spread;
  readonly speedMmPerS: number;
  readonly accelerationMmPerS2: number;
  /** Options of the machine that were not given: their defaults were assumed. */
  readonly assumed: readonly string[];
  /** Where the command found the machine's figures, by option: "the command line", "the machine file mine.json". */
  readonly givenBy?: GivenBy;
  readonly candidates: readonly Candidate[];
  /** Methods of a list of ours (`all`, or none named) that do not fit. A method that was named by the user is refused instead. */
  readonly leftOut: readonly LeftOut[];
  readonly recommended: ComparedChoice;
  /** Indices. */
  readonly winners: ForWinners<number>;
  /** The reason for each winner, in words. */
  readonly reasons: ForWinners<string>;
}
