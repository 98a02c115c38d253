import type { MaterialDoubt } from "../../../core/material/material-doubts.js";
import type { Report } from "../../report.js";
import type { Matter } from "../matter.js";

/** Facts that bear on warnings but have no place in the report itself. */
export interface WarningFacts {
  readonly materialDoubts: readonly MaterialDoubt[];
  readonly materialShape: "steep" | "gradual";
  /** Dose from which the material chars, where it says so. */
  readonly charDose: number | undefined;
  /** True where burning darkens the surface. */
  readonly darkens: boolean;
  readonly methodKeepsMean: boolean;
  readonly looksLikeArtwork: boolean;
  /** Whether the photo's file was changed on the way. */
  readonly looksDamaged: boolean;
  /** Whether swapping light and dark was asked for where it changes nothing. */
  readonly negativeIdle: boolean;
  readonly speedMmPerS: number;
  /** How far odd lines sit off the even ones; 0 where all are burned in one direction. */
  readonly lineShiftMm: number;
  /** Share of the line time that the quickest speed would save. */
  readonly savedAtQuickestSpeed: number;
}

/** What a rule looks at. */
export interface Judged extends Omit<Report, "warnings"> {
  readonly facts: WarningFacts;
}

/** One warning: when it is given, with which names and figures, and what it says. */
export interface WarningRule<Data extends object> extends Matter<Data> {
  /** What goes into the words, once for each time that it is to be said; false or nothing where it is not. */
  when(judged: Judged): Data | readonly Data[] | false | undefined;
}

/** Leaves it to the compiler to see which data a rule has. */
export const warning = <Data extends object>(rule: WarningRule<Data>): WarningRule<Data> => rule;
