import type { ShownUnits } from "../core/shown-units.js";
import type { Report } from "./report.js";

/** A solid patch that is burned at several powers to find the one for full tone. Its keys are promised; more may be added. */
export interface PowerTest {
  readonly tool: Report["tool"];
  /** The units of sizes and speeds in its words and on its page. Figures have the unit that their key names. */
  readonly units: ShownUnits;
  readonly job: {
    readonly material: string;
    readonly materialSource: string;
    /** How marks change the surface. */
    readonly marksGrow: "darker" | "lighter";
    /** Side of the patch after rounding to whole pixels, along and across the lines. */
    readonly widthMm: number;
    readonly heightMm: number;
    readonly columns: number;
    readonly rows: number;
    readonly pitchAlongMm: number;
    readonly pitchAcrossMm: number;
    readonly linesPerInch: number;
    readonly spotAlongMm: number;
    readonly spotAcrossMm: number;
    /** Bare strip between two lines. */
    readonly gapMm: number;
    /** Dose from which the material chars, if it states it. */
    readonly charDose?: number;
    readonly speedMmPerS: number;
    /** Whether the speed was given. Otherwise only the run time assumes it. */
    readonly isSpeedGiven: boolean;
  };
  /** How often the patch is burned, each time at another power. */
  readonly patches: number;
  /** From one power to the next. */
  readonly powerRatio: number;
  /** Run time of one patch. */
  readonly secondsPerPatch: number;
  /** What to do, in order, in the words of the reader. */
  readonly steps: readonly string[];
  /** What may go wrong, and what the figures assume. */
  readonly notes: readonly string[];
  /** The option to give afterwards, for the example of 40 %. */
  readonly giveAs: string;
  readonly cautions: readonly string[];
}
