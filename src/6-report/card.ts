import type { CardDensityReason } from "../core/card-density.js";
import type { CardPattern } from "../core/card-pattern.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Report } from "./report.js";

/** What a test card holds and how to engrave it. Its keys are promised; more may be added. */
export interface TestCard {
  readonly tool: Report["tool"];
  /** The units of sizes and speeds in its words and on its page. Figures have the unit that their key names. */
  readonly units: ShownUnits;
  readonly job: CardJob;
  /** What is on it. */
  readonly contents: CardContents;
  readonly runTime: { readonly seconds: number; readonly lines: number; readonly beamOnSeconds: number };
  /** Patterns by what they tell, without the two references. */
  readonly groups: readonly CardGroup[];
  /** How to engrave it, in order, in the words of the reader. */
  readonly steps: readonly string[];
  /** How to take its picture, in order. */
  readonly photograph: readonly string[];
  /** What the card shows and what it does not. */
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

/** What to set, and what the card is for. */
export interface CardJob {
  readonly material: string;
  readonly materialSource: string;
  /** How marks change the surface. */
  readonly marksGrow: "darker" | "lighter";
  readonly widthMm: number;
  readonly heightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly pitchAlongMm: number;
  readonly pitchAcrossMm: number;
  readonly linesPerInch: number;
  readonly linesPerInchAlong: number;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  /** Whether the spot was given. Otherwise it is a guess. */
  readonly isSpotGiven: boolean;
  /** Spot across the lines over their pitch. */
  readonly linesPerSpot: number;
  /** Whether the density was given, computed from the spot, or chosen from those that the machine offers. */
  readonly densityReason: CardDensityReason;
  /** Power levels, 2..256. */
  readonly levels: number;
  readonly seed: number;
  /** Dose over that of the first card, for a card that is read beside it. */
  readonly doseFactor?: number;
  /** True if every line is burned in the same direction. */
  readonly oneWay: boolean;
  readonly speedMmPerS: number;
  /** Whether the speed was given. Otherwise only the run time assumes it. */
  readonly isSpeedGiven: boolean;
}

/** How much is on a card. */
export interface CardContents {
  /** With references. */
  readonly patches: number;
  /** Side of a patch. */
  readonly patchMm: number;
  /** Without the two references. */
  readonly patterns: number;
  /** Patterns that a larger card has and this one leaves out. */
  readonly leftOut: number;
  /** Patches of each pattern: at least so many. */
  readonly repeats: number;
  readonly bareReferences: number;
  readonly solidReferences: number;
  /** Text of the code, from which the recipe can be made anew. */
  readonly code: string;
  readonly moduleMm: number;
  /** Mean power of all pixels, 0..1. */
  readonly burnFraction: number;
}

/** What a group of patterns is for. */
export type CardGroupName =
  | "ladder"
  | "bundles"
  | "bursts"
  | "one-way-bursts"
  | "dashes"
  | "lone-lines"
  | "dots"
  | "holes"
  | "checks"
  | "vernier"
  | "fills";

/** All of them, in the order of the page. */
export const cardGroupNames: readonly CardGroupName[] = [
  "ladder",
  "bundles",
  "bursts",
  "one-way-bursts",
  "dashes",
  "lone-lines",
  "dots",
  "holes",
  "checks",
  "vernier",
  "fills",
];

/** Patterns that tell the same. */
export interface CardGroup {
  readonly name: CardGroupName;
  readonly patterns: readonly ShownPattern[];
}

/** One pattern of a card. */
export interface ShownPattern {
  /** As written on the preview, from 1. */
  readonly number: number;
  /** As in the recipe. */
  readonly name: string;
  readonly pattern: CardPattern;
  /** What repeats, a line in each text: 1 burns, at whatever power. */
  readonly tile: readonly string[];
  readonly burnFraction: number;
  /** Number of its patches. */
  readonly patches: number;
}
