import type { CharRisk } from "../core/material/char-risk.js";
import type { Report } from "./report.js";

/** What is planned: a photo, a coating to be stripped, or one solid shade. */
export type WorkKind = "photo" | "strip" | "shade";

/** A plan of densities, as `plan` returns it. Its keys are promised; more may be added. */
export interface Plan {
  readonly tool: Report["tool"];
  readonly job: {
    readonly kind: WorkKind;
    /** Empty without a photo. */
    readonly photo: string;
    /** Size asked for; each density rounds it to whole pixels. */
    readonly widthMm: number;
    readonly heightMm: number;
    readonly material: string;
    readonly materialSource: string;
    readonly materialShape: "steep" | "gradual";
    /** Dose from which the material chars, where it says so. */
    readonly charDose?: number;
    readonly speedMmPerS: number;
    readonly accelerationMmPerS2: number;
    readonly firingLagUs: number;
    readonly doseSpread: number;
    /** Detail by whose held tones a photo's densities are compared. */
    readonly detailMm: number;
    readonly limits: PlanLimits;
  };
  /** Of the recommended lens. */
  readonly matchedLinesPerInch: number;
  readonly lenses: readonly PlannedLens[];
  /** By lens, then by rising density. */
  readonly rows: readonly PlanRow[];
  readonly recommended: Recommendation;
  readonly notes: readonly PlanNote[];
  readonly cautions: readonly string[];
}

/** What the user asked the choice to keep to, or what it keeps to by default. */
export interface PlanLimits {
  readonly minutes?: number;
  readonly tones?: { readonly count: number; readonly detailMm: number };
  /** `photo` without a limit on tones. */
  readonly gain?: number;
  /** `strip`. */
  readonly margin?: number;
  /** `shade`: share of the way from bare to darkest, and the L* that this is. */
  readonly darkness?: number;
  readonly lightness?: number;
}

/** A spot that is planned for, and the lens that makes it where one was described. */
export interface PlannedLens {
  readonly name: string;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  readonly matchedLinesPerInch: number;
  /** Density at which dose 1, that of full tone, is the mean of a solid fill: the material's, or the matched one. */
  readonly referenceLinesPerInch: number;
  /** Where the spot was computed. */
  readonly optics?: {
    readonly focusMm: number;
    readonly aberrationMm: number;
    readonly depthOfFocusMm: number;
  };
}

/** One density of a plan, in figures as `prepare` would report them. */
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
  /** Solid dose at unchanged power and speed over that at the reference density. */
  readonly doseFactor: number;
  /** Its reciprocal. */
  readonly powerFactor: number;
  /** Where the material says from which dose it chars: what of a solid fill at dose 1 (`shade`: at the dose needed) lies beyond. */
  readonly charRisk?: CharRisk;
  readonly detail: Omit<Report["detail"], "photoLpPerMm"> & { readonly photoLpPerMm?: number };
  /** The rest of a photo's row. */
  readonly method?: string;
  readonly tonalResolution?: NonNullable<Report["tonalResolution"]>;
  readonly visualErrorRms?: number;
  readonly visualErrorBias?: number;
  readonly expectedVisualError?: number;
  /** Share of the pixels that the visual errors were measured on: large pieces are sampled. */
  readonly judgedShare?: number;
  /** The rest of a shade's row; absent where no dose reaches the wanted tone. */
  readonly shade?: ShadeSetting;
}

/** Ways to one solid tone at one density: the same energy per line, by power or by speed. */
export interface ShadeSetting {
  /** Mean dose that the tone needs. */
  readonly dose: number;
  /** Dose on the centres of its lines. */
  readonly peakDose: number;
  /** Power at unchanged speed, over the reference. */
  readonly powerFactor: number;
  /** Or speed at unchanged power, and the run time then. */
  readonly speedMmPerS: number;
  readonly secondsAtSpeed: number;
}

/** The density that a plan recommends, and why. */
export interface Recommendation {
  readonly linesPerInch: number;
  /** Index of its row. */
  readonly row: number;
  /** False where no density keeps to all that was asked, and this one comes nearest. */
  readonly meetsLimits: boolean;
  readonly reason: string;
  readonly whatWouldChangeIt: readonly string[];
}

/** What a note of a plan is about. */
export type PlanNoteCode =
  | "time-saved"
  | "photo-too-small"
  | "steep-density-worse"
  | "held-tones-fall"
  | "char-risk"
  | "line-gaps"
  | "other-work"
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
