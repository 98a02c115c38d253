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
  /** The text of the card's code. */
  readonly card: string;
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
  /** The density at which spots just touch, across. */
  readonly closingLinesPerInch: LearntFigure;
  /** Standard deviation of the dose from patch to patch, and of the reading. */
  readonly scatter: { readonly dose: number; readonly reading: number };
  readonly patches: readonly CalibrationPatch[];
  readonly warnings: readonly { readonly code: CalibrationWarningCode; readonly message: string }[];
}

/** A picture that was read. */
export interface CalibrationPicture {
  readonly file: string;
  readonly pxPerMm: number;
  /** How far references differ after the light was made even, as a share. */
  readonly unevenness: number;
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
  | "not-learnt"
  | "not-saturated"
  | "tone-turns"
  | "patches-spoilt";
