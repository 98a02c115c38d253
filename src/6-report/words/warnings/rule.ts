import type { Extrapolation } from "../../../core/material/extrapolation.js";
import type { MaterialDoubt } from "../../../core/material/material-doubts.js";
import type { Report } from "../../report.js";
import type { IdleFacts } from "../idle-option.js";
import type { Matter } from "../matter.js";

/** A clustered-dot screen as it was asked for, or as it is by default. */
export interface ScreenFacts {
  readonly askedLinesPerInch: number;
  /** The default for this spot and material, and the same where a cell needs more pixels. */
  readonly usualLinesPerInch: number;
  readonly fittingLinesPerInch: number;
  /** Pixels of a cell, and its side in spot diameters. */
  readonly cellPx: number;
  readonly periodSpots: number;
  /** True if the grid cannot show the screen's dots. */
  readonly isDispersed: boolean;
}

/** Facts for warnings that the report itself does not have. */
export interface WarningFacts {
  readonly materialDoubts: readonly MaterialDoubt[];
  readonly materialShape: "steep" | "gradual";
  /** Range of dose over which the material's tone changes. */
  readonly toneRange: number;
  /**
   * Line centres of a solid fill that get more dose than the response goes, and the share of the piece with such a dose if the bitmap
   * was kept; undefined if there are none.
   */
  readonly extrapolation: (Extrapolation & { readonly share?: number }) | undefined;
  /** Only of a clustered-dot job. */
  readonly screen?: ScreenFacts | undefined;
  /** Dose from which the material chars, if the material states it. */
  readonly charDose: number | undefined;
  /** True if burning darkens the surface. */
  readonly darkens: boolean;
  readonly methodKeepsMean: boolean;
  readonly looksLikeArtwork: boolean;
  /** Whether it is a drawing of several colours beside its paper. */
  readonly severalInks: boolean;
  /** True if brightness, contrast or gamma were set. */
  readonly adjustsTones: boolean;
  readonly hasTransparency: boolean;
  /** Groups of colours of a drawing that become one tone, as `#rrggbb`, and the share of the picture that is lost with them. */
  readonly mergedColours: readonly { readonly colours: readonly string[]; readonly share: number }[];
  /** What triage found about the photo. */
  readonly findings: readonly { readonly code: string; readonly data: object }[];
  /** Whether the photo's file looks damaged. */
  readonly looksDamaged: boolean;
  /** Bits of each sample in the photo's file. */
  readonly sourceBits: number;
  /** True if light and dark should be swapped but this changes nothing. */
  readonly negativeIdle: boolean;
  /** Given options that have no effect. */
  readonly idleOptions: readonly Omit<IdleFacts, "method">[];
  readonly speedMmPerS: number;
  /** Time by which the source starts later than it stops. */
  readonly firingLossUs: number;
  /** Shift of the odd lines against the even ones; 0 if all are burned in one direction. */
  readonly lineShiftMm: number;
  /** Share of the line time that the quickest speed saves. */
  readonly savedAtQuickestSpeed: number;
}

/** The input of a rule. */
export interface Judged extends Omit<Report, "warnings"> {
  readonly facts: WarningFacts;
}

/** One warning: its condition, its data and its words. */
export interface WarningRule<Data extends object> extends Matter<Data> {
  /** The data for the words, once for each time that the warning applies; false or undefined if it does not apply. */
  when(judged: Judged): Data | readonly Data[] | false | undefined;
}

/** Lets the compiler infer the data of a rule. */
export const warning = <Data extends object>(rule: WarningRule<Data>): WarningRule<Data> => rule;
