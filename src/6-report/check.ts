import type { ShownUnits } from "../core/shown-units.js";
import type { CalibrationPicture } from "./calibration.js";
import type { Report } from "./report.js";

/** What a check card holds and how to engrave it. Its keys are promised; more may be added. */
export interface CheckCard {
  readonly tool: Report["tool"];
  readonly units: ShownUnits;
  readonly job: CheckCardJob;
  /** What should come out, from bare to solid. */
  readonly tones: readonly PromisedTone[];
  readonly runTime: { readonly seconds: number; readonly lines: number; readonly beamOnSeconds: number };
  /** Mean power of all pixels, 0..1. */
  readonly burnFraction: number;
  /** How to engrave it, in order, in the words of the reader. */
  readonly steps: readonly string[];
  /** How to take its picture, in order. */
  readonly photograph: readonly string[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

/** What to set, and what the card was prepared with. */
export interface CheckCardJob {
  readonly material: string;
  readonly materialSource: string;
  readonly marksGrow: "darker" | "lighter";
  readonly widthMm: number;
  readonly heightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly linesPerInch: number;
  readonly linesPerInchAlong: number;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  readonly levels: number;
  readonly oneWay: boolean;
  /** Name of the halftone. */
  readonly method: string;
  /** Name of the photo's file; empty for the built-in picture. */
  readonly photo: string;
  readonly speedMmPerS: number;
  readonly isSpeedGiven: boolean;
  /** Whether the material file says that it was measured. */
  readonly isMeasured: boolean;
  /** The power to set, in the words of the reader. */
  readonly power: string;
  /** The text of the card's code. */
  readonly code: string;
}

/** A step of the wedge, or the solid references. Luminance factors. */
export interface PromisedTone {
  readonly name: string;
  readonly wanted: number;
  readonly predicted: number;
  /** Number of its patches. */
  readonly patches: number;
}

/** Whether the tones of a check card landed. Its keys are promised; more may be added. */
export interface ToneCheck {
  readonly tool: Report["tool"];
  /** The text of the card's code. */
  readonly card: string;
  readonly material: string;
  readonly method: string;
  readonly linesPerInch: number;
  readonly pictures: readonly CalibrationPicture[];
  /** The curve by which the camera writes light: measured from several known exposures, or assumed to be that of sRGB. */
  readonly camera: "measured" | "assumed";
  /** Luminance factor of the bare surface by the material file: all tones are measured against it. */
  readonly bareLuminance: number;
  /**
   * `within`: as predicted. `dose`: all tones are off as with another dose. `shape`: they are off in a way that no dose explains.
   */
  readonly verdict: "within" | "dose" | "shape";
  readonly dose: CheckedDose;
  readonly steps: readonly CheckedStep[];
  readonly patches: readonly CheckedPatch[];
  /** What came out, in a sentence. */
  readonly outcome: string;
  /** What to do, in order. */
  readonly advice: readonly string[];
  /** How far to trust it. */
  readonly notes: readonly string[];
}

/** The dose over the nominal one that fits the tones best. */
export interface CheckedDose {
  readonly factor: number;
  /** Absent if the factor lies within what was predicted; else it is at least so far off. */
  readonly isLimit?: true;
  /** Whether it explains most of what the tones are off. */
  readonly explains: boolean;
  /** Root mean square of what the tones are off, in L*: as they are, and after the dose is allowed for. */
  readonly offBefore: number;
  readonly offAfter: number;
}

/** A step of the wedge, or the solid references. */
export interface CheckedStep {
  readonly name: string;
  /** Luminance factors: asked for, predicted, and measured. */
  readonly wanted: number;
  readonly predicted: number;
  readonly measured: number;
  /** Measured less predicted, in L*: below 0 it is too dark. */
  readonly difference: number;
  /** It may be off by so much, in L*. */
  readonly tolerance: number;
  /** Standard error of the measured one, in L*: how far the mean of its patches can be trusted. */
  readonly error: number;
  readonly verdict: "within" | "too-dark" | "too-light";
  readonly patches: number;
  /** Patches that are hidden, or differ from their repeats: they were left out. */
  readonly spoilt: number;
}

/** A patch as it was read. */
export interface CheckedPatch {
  readonly id: string;
  readonly shows: string;
  readonly measured: number;
}
