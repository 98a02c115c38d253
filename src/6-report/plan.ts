import type { CharRisk } from "../core/material/char-risk.js";
import type { GivenBy } from "../core/reader.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Spread } from "../core/spread.js";
import type { PowerToSet, Report } from "./report.js";

/** The kind of work: a photo, a coating to strip, or one solid shade. */
export type WorkKind = "photo" | "strip" | "shade";

/** A plan of densities, as `plan` returns it. Its keys are promised; more may be added. */
export interface Plan {
  readonly tool: Report["tool"];
  /** The units of sizes and speeds in its words. */
  readonly units: ShownUnits;
  readonly job: {
    readonly kind: WorkKind;
    /** Empty without a photo. */
    readonly photo: string;
    /** Requested size; each density rounds it to whole pixels. */
    readonly widthMm: number;
    readonly heightMm: number;
    readonly material: string;
    readonly materialSource: string;
    readonly materialShape: "steep" | "gradual";
    /** Dose from which the material chars, if the material states it. */
    readonly charDose?: number;
    /** How far the work lies from the focus; absent if it is in focus. */
    readonly defocusMm?: number;
    readonly passes: number;
    readonly speedMmPerS: number;
    readonly accelerationMmPerS2: number;
    readonly firingLagUs: number;
    readonly firingLossUs: number;
    /** Common part of the spread as three equal weights 1 − s, 1, 1 + s. */
    readonly doseSpread: number;
    /** Variation of the machine in four parts, relative standard deviations. */
    readonly spread: Spread;
    /** Middle size of the details by whose useful tones a photo's densities are compared. */
    readonly detailMm: number;
    readonly limits: PlanLimits;
    /** Options of the machine that were not given: their defaults were assumed. */
    readonly assumed: readonly string[];
    /** Where the command found the machine's figures, by option: "the command line", "the machine file mine.json". */
    readonly givenBy?: GivenBy;
  };
  /** Of the recommended lens. */
  readonly matchedLinesPerInch: number;
  readonly lenses: readonly PlannedLens[];
  /** By lens, then by rising density. */
  readonly rows: readonly PlanRow[];
  readonly recommended: Recommendation;
  /** Power of the recommended row: for full tone, for the wanted shade, or for a line that removes the coating. */
  readonly power: PowerToSet;
  readonly notes: readonly PlanNote[];
  readonly cautions: readonly string[];
}

/** The limits of the choice, from the user or by default. */
export interface PlanLimits {
  readonly minutes?: number;
  readonly tones?: { readonly count: number; readonly detailMm: number };
  /** `photo` without a limit on tones. */
  readonly gain?: number;
  /** `strip`. */
  readonly margin?: number;
  /** `shade`: share of the way from bare to darkest, and its L*. */
  readonly darkness?: number;
  readonly lightness?: number;
}

/** A planned spot, and its lens if one was described. */
export interface PlannedLens {
  readonly name: string;
  /** On the work. */
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  readonly matchedLinesPerInch: number;
  /** Density at which a solid fill has the mean dose 1, that of full tone: the material's, or the matched one. */
  readonly referenceLinesPerInch: number;
  /** Only if the spot was computed. */
  readonly optics?: {
    readonly focusMm: number;
    readonly aberrationMm: number;
    readonly depthOfFocusMm: number;
  };
}

/** One density of a plan, with the figures that `prepare` would report. */
export interface PlanRow {
  /** Index of its lens. */
  readonly lens: number;
  readonly linesPerInch: number;
  readonly pitchMm: number;
  readonly overdrive: number;
  readonly columns: number;
  readonly rows: number;
  readonly seconds: number;
  readonly lines: number;
  readonly beamOnSeconds: number;
  readonly gapMm: number;
  readonly overlap: number;
  readonly markWidthMm: number;
  readonly markGapMm: number;
  readonly ripple: number;
  readonly peakDose: number;
  /** Solid dose of all passes at unchanged power and speed, over that of one pass at the reference density. */
  readonly doseFactor: number;
  /** Its reciprocal. */
  readonly powerFactor: number;
  /**
   * Which parts of a solid fill at dose 1 (`shade`: at its dose) exceed the dose from which the material chars. Absent if the
   * material does not state it.
   */
  readonly charRisk?: CharRisk;
  readonly detail: Omit<Report["detail"], "photoLpPerMm"> & { readonly photoLpPerMm?: number };
  /** The rest of a photo's row. */
  readonly method?: string;
  readonly tonalResolution?: NonNullable<Report["tonalResolution"]>;
  /**
   * Tones that count in fine details, with the halftone that is best at this density: 1 + (held − 1) / √(1 + E²), E the expected
   * visual error. Measured on a built-in picture, as a smooth function of the density: densities are compared by it.
   */
  readonly usefulTones?: number;
  readonly visualErrorRms?: number;
  readonly visualErrorBias?: number;
  /** √(unevenness² + (toneShift/3)²) */
  readonly expectedVisualError?: number;
  /** What is uneven within the piece, in L*. */
  readonly unevenness?: number;
  /** What makes all tones lighter or darker, in L*. */
  readonly toneShift?: number;
  /** Share of the pixels on which the visual errors were measured: large pieces are sampled. */
  readonly judgedShare?: number;
  /** The rest of a shade's row; absent if no dose reaches the wanted tone. */
  readonly shade?: ShadeSetting;
}

/** Two ways to one solid tone at one density: the same energy per line, by power or by speed. */
export interface ShadeSetting {
  /** Mean dose that the tone needs. */
  readonly dose: number;
  /** Dose on the centres of its lines. */
  readonly peakDose: number;
  /** Power of each pass at unchanged speed, over the reference. */
  readonly powerFactor: number;
  /** The same in percent of the machine's. Only if the full-tone setting was given. */
  readonly powerPercent?: number;
  /** Or speed at unchanged power, and the run time then. */
  readonly speedMmPerS: number;
  readonly secondsAtSpeed: number;
}

/** The density that a plan recommends, and why. */
export interface Recommendation {
  readonly linesPerInch: number;
  /** Index of its row. */
  readonly row: number;
  /** False if no density meets all limits; then this one is the nearest. */
  readonly meetsLimits: boolean;
  readonly reason: string;
  readonly whatWouldChangeIt: readonly string[];
}

/** The subject of a plan's note. */
export type PlanNoteCode =
  | "solid-artwork"
  | "looks-like-artwork"
  | "nothing-to-see"
  | "time-saved"
  | "photo-too-small"
  | "steep-density-worse"
  | "tones-fall"
  | "char-risk"
  | "line-gaps"
  | "power-too-weak"
  | "power-very-low"
  | "other-work"
  | "option-idle"
  | "best-case-optics"
  | "run-up-dominates"
  | "built-in-target"
  | "material-illustrative"
  | "material-doubtful";

/** Something that a plan's reader should know. */
export interface PlanNote {
  readonly code: PlanNoteCode;
  readonly message: string;
}
