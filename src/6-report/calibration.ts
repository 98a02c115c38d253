import type { Report } from "./report.js";

/** A figure that a card was asked for, with the band that holds it nine times out of ten. */
export interface LearntFigure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** False if the card does not tell it: the value is then what was believed before. */
  readonly learnt: boolean;
}

/** What a picture of a test card taught. Its keys are promised; more may be added. */
export interface Calibration {
  readonly tool: Report["tool"];
  /** The text of the first card's code. */
  readonly card: string;
  /** All cards that were read together. */
  readonly cards: readonly CalibrationCard[];
  readonly pictures: readonly CalibrationPicture[];
  /** The curve by which the camera writes light: measured from several known exposures, or assumed to be that of sRGB. */
  readonly camera: "measured" | "assumed";
  /** The speed at which the card was burned; assumed if neither the card nor the user says it. */
  readonly speedMmPerS: number;
  readonly isSpeedAssumed: boolean;
  /** Luminance factor of the bare surface, and who said so. */
  readonly bare: { readonly luminance: number; readonly from: "given" | "paper" | "material" };
  readonly response: readonly {
    readonly dose: number;
    readonly luminance: number;
    readonly low: number;
    readonly high: number;
  }[];
  /** Dose beyond which the tone turns back, as where charred marks become pale: the curve ends before it. */
  readonly reversalDose?: number;
  readonly spotAlongMm: LearntFigure;
  readonly spotAcrossMm: LearntFigure;
  readonly firingLagUs: LearntFigure;
  readonly firingLossUs: LearntFigure;
  readonly lineShiftMm: LearntFigure;
  /** 1 if the doses of neighbouring lines add up (q of the model). */
  readonly lineExponent: LearntFigure;
  /** Lines of the card to the spot, the smaller one of along and across. */
  readonly linesPerSpot: number;
  /** The density at which spots just touch, across. */
  readonly closingLinesPerInch: LearntFigure;
  /** How the machine varies, as relative standard deviations. */
  readonly spread: CalibrationSpread;
  /** Standard deviation of the dose from patch to patch, and of the reading. */
  readonly scatter: { readonly dose: number; readonly reading: number };
  readonly patches: readonly CalibrationPatch[];
  readonly warnings: readonly { readonly code: CalibrationWarningCode; readonly message: string }[];
  /** What was believed before, to compare. */
  readonly before: CalibrationBefore;
  /** What to set differently on the machine, in the words of the reader. */
  readonly settings: readonly string[];
  /** What to engrave next to be surer, in the words of the reader. */
  readonly next: readonly string[];
}

/** A card, and how it came out. */
export interface CalibrationCard {
  /** The text of its code. */
  readonly code: string;
  readonly files: readonly string[];
  /** Dose of its solid patches as it was meant, over that of the card without such a figure. */
  readonly doseFactor: number;
  /** False if its power was set anew for another density or speed, so that nobody knows. */
  readonly isDoseKnown: boolean;
  /** Dose over what was meant, and spot diameter, both over those of the first card. Absent of the first. */
  readonly dose?: LearntFigure;
  readonly spot?: LearntFigure;
}

/** Parts of the variation of a machine. */
export interface CalibrationSpread {
  /** Of the dose from piece to piece: only several cards tell. */
  readonly common: LearntFigure;
  /** Of the dose from place to place, and the length ℓ of its correlation exp(−(r/ℓ)²). */
  readonly local: LearntFigure;
  readonly localLengthMm: LearntFigure;
  /** Of the dose from line to line. */
  readonly line: LearntFigure;
  /** Of the spot's diameter from piece to piece: only several cards tell. */
  readonly spot: LearntFigure;
  /** Largest change of the dose by a slow drift over a card, as a share. */
  readonly drift: number;
}

/** A figure of the machine that a card may change. */
export type ChangedFigure =
  | "spotAlongMm"
  | "spotAcrossMm"
  | "firingLagUs"
  | "firingLossUs"
  | "lineShiftMm"
  | "lineExponent";

/** What was believed before a card was read. */
export interface CalibrationBefore {
  readonly material: string;
  /** At the doses of the new response. */
  readonly response: readonly { readonly dose: number; readonly luminance: number }[];
  /** Each figure, and where it was given; without a place it was assumed. */
  readonly figures: Readonly<Record<ChangedFigure, { readonly value: number; readonly from?: string }>>;
}

/** What a card says of machine and material, without the words. */
export type CalibrationFigures = Omit<Calibration, "warnings" | "settings" | "next">;

/** A picture that was read. */
export interface CalibrationPicture {
  readonly file: string;
  readonly pxPerMm: number;
  /** How far references differ after the light was made even, as a share. */
  readonly unevenness: number;
  /** Luminance of a solid patch over that of the bare surface, with the curve of the camera taken off. */
  readonly solidOverBare: number;
}

/** A patch as it was read, and as the fit says. */
export interface CalibrationPatch {
  readonly id: string;
  readonly pattern: string;
  readonly measured: number;
  /** Absent for a pattern whose dose goes beyond the end of the curve. */
  readonly fitted?: number;
  readonly spoilt: boolean;
}

/** What a calibration may warn of. */
export type CalibrationWarningCode =
  | "bare-assumed"
  | "speed-assumed"
  | "camera-assumed"
  | "pictures-disagree"
  | "not-learnt"
  | "card-coarse"
  | "lag-unsure"
  | "not-saturated"
  | "tone-turns"
  | "card-off"
  | "dose-drifts"
  | "patches-spoilt";
