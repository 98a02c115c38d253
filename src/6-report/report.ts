import type { GivenBy } from "../core/reader.js";
import type { ShownUnits } from "../core/shown-units.js";
import type { Spread } from "../core/spread.js";
import type { PictureReport, PowerToSet, ReportTone } from "./report-parts.js";
import type { ReportAround, ReportScreen } from "./report-round.js";
import type { Warning } from "./report-warning.js";

export type { PictureReport, PowerToSet, ReportTone } from "./report-parts.js";
export type { ReportAround, ReportPlaced, ReportScreen } from "./report-round.js";
export type { Warning, WarningCode } from "./report-warning.js";

/** The report of one prepared piece, as written to `<stem>.report.json`. Its keys are promised; more may be added. */
export interface Report {
  readonly tool: { readonly name: "spotpitch"; readonly version: string };
  /** The units of sizes and speeds in its words and on its page. Figures have the unit that their key names. */
  readonly units: ShownUnits;
  readonly input: {
    readonly file: string;
    readonly widthPx: number;
    readonly heightPx: number;
    /** Photo pixels per mm of engraved width, after cropping. */
    readonly effectivePxPerMm: number;
    /** Share of the cropped photo that lies on the piece, 0..1: less than 1 if `cover` cuts it to shape. */
    readonly shownShare: number;
    /** Only if parts of it are transparent. They stay bare. */
    readonly transparent?: true;
  };
  readonly job: PictureReport & {
    readonly kind: "photo" | "solid";
    /** True if the kind was not set but guessed from the picture. */
    readonly kindGuessed: boolean;
    /** Name of the halftone; "none" for a solid piece whose edges were placed. */
    readonly method: string;
    /** Only of a searched piece. */
    readonly search?: {
      /** The error that it lowered: at the settings, or the one to expect of a machine that varies. */
      readonly aim: "nominal" | "robust";
      /** The halftone with which it began. Tones are counted with this one. */
      readonly start: string;
      /** The bitmap file from which it went on, if one was given. */
      readonly startBitmap?: string;
      readonly passes: number;
      /** Share of the pixels that the last pass changed. */
      readonly lastChanged: number;
      /** Whether it ended because little was left to gain. Otherwise its time or its number of passes was over. */
      readonly settled: boolean;
    };
    readonly levels: number;
    readonly scan: "serpentine" | "raster";
    readonly seed: number;
    readonly toneMap: "lightness" | "luminance";
    readonly compensated: boolean;
    readonly autoTone: boolean;
    readonly mirror: boolean;
    /** Whether light and dark were swapped. */
    readonly negative: boolean;
    /** True size after rounding to whole pixels. */
    readonly widthMm: number;
    readonly heightMm: number;
    readonly columns: number;
    readonly rows: number;
    readonly pitchAlongMm: number;
    readonly pitchAcrossMm: number;
    readonly linesPerInch: number;
    /** How often the whole piece is burned. */
    readonly passes: number;
    /** Only of a clustered-dot job. */
    readonly screen?: ReportScreen;
    /** Only of a round piece. Its `widthMm` is the circumference, of a cone half-way down. */
    readonly around?: ReportAround;
    /** The spot on the work. */
    readonly spotAlongMm: number;
    readonly spotAcrossMm: number;
    /** Only if the work lies beside the focus: how far, and the spot at the focus. */
    readonly outOfFocus?: {
      readonly defocusMm: number;
      readonly focusSpotAlongMm: number;
      readonly focusSpotAcrossMm: number;
    };
    /** Spot diameter across / pitch across. */
    readonly overdrive: number;
    readonly matchedLinesPerInch: number;
    readonly material: string;
    readonly materialSource: string;
    /** Common part of the spread as three equal weights 1 − s, 1, 1 + s. */
    readonly doseSpread: number;
    /** Variation of the machine in four parts, relative standard deviations. */
    readonly spread: Spread;
    /** What `expectedVisualError` and the held tones are computed with. */
    readonly variationModel: "four-part";
    readonly viewDistanceMm: number;
    readonly viewLuminanceCdM2: number;
    /** Options of the machine that were not given: their defaults were assumed. */
    readonly assumed: readonly string[];
    /** Where the command found the machine's figures, by option: "the command line", "the machine file mine.json". */
    readonly givenBy?: GivenBy;
  };
  /** What became of the photo's tones before the halftone. Only of a photo. */
  readonly tone?: ReportTone;
  readonly coverage: {
    /** Share of pixels that burn; with power levels the mean of their shares of full power. */
    readonly burnFraction: number;
    readonly gapMm: number;
    readonly overlap: number;
    /** Share of a square grid of single dots that hard-edged discs of the spot's size would cover. */
    readonly dotCoverage: number;
    /**
     * Solid dose of all passes at unchanged power and speed, over that of one pass at the material's reference density, or at this
     * density if the material has none.
     */
    readonly solidDoseFactor: number;
    /** Factor for the power of each pass (or 1 / speed) that keeps the reference dose. */
    readonly powerFactor: number;
    /** 1 + (power levels − 1) · spot area / pixel area. */
    readonly levelsPerSpot: number;
    /** Modulation (max − min)/(max + min) of a solid fill's dose across the lines, 0..1. */
    readonly ripple: number;
    /** Dose on the centre of a line of a solid fill, whose mean dose is 1 if the doses of its lines add up. */
    readonly peakDose: number;
    /** Width that one line marks: on a steep material where its dose exceeds that of half response, otherwise the spot. */
    readonly markWidthMm: number;
    /** Bare strip between lines that wide. */
    readonly markGapMm: number;
  };
  readonly power: PowerToSet;
  /** Absent with `bitmapOnly`. */
  readonly prediction?: {
    readonly darkestLuminance: number;
    readonly lightestLuminance: number;
    readonly visualErrorRms: number;
    readonly visualErrorBias: number;
    /** √(unevenness² + (toneShift/3)²) */
    readonly expectedVisualError: number;
    /** What is uneven within the piece, in L*: its grain, and blotches and streaks of the machine's variation. */
    readonly unevenness: number;
    /** What shifts all tones alike, in L*. Only a proof beside the piece shows it. */
    readonly toneShift: number;
    /** What each part of the variation adds to the nominal piece, in squares. */
    readonly variation: Readonly<
      Record<
        "common" | "local" | "line" | "spot",
        { readonly unevenness: number; readonly toneShift: number }
      >
    >;
    readonly uncompensatedVisualErrorRms: number;
    /** Share of the pixels on which the visual errors were measured: large pieces are sampled. */
    readonly judgedShare: number;
    /** Standard error of `visualErrorRms` from sampling, in L*; 0 if every pixel was judged. */
    readonly visualErrorRmsStandardError: number;
  };
  /**
   * What becomes of the distinctions of the photo as it came: the differences of 3 L* or more that an eye at the viewing distance
   * sees within details of 0.5 to 4.5 mm. Shares of the picture; oval, border and vignette are left out. Absent with `bitmapOnly`.
   */
  readonly fidelity?: {
    /** Side of the smallest detail that is compared. */
    readonly cellMm: number;
    /** Where the photo has distinctions. */
    readonly distinctShare: number;
    /** Where the piece no longer has them. */
    readonly lostShare: number;
    /** The same by cause. */
    readonly lost: {
      /** Clipped or flattened by levels, brightness, contrast or gamma. */
      readonly levels: number;
      /** Merged into the bare surface, or into solid fill. */
      readonly bare: number;
      readonly solid: number;
      /** Smaller than the differences that material, spot and dose can show. */
      readonly faint: number;
      /** Flat colours of a drawing that differ to the eye, but are equally light and become one tone. */
      readonly colours: number;
    };
  };
  readonly tonalResolution?: readonly {
    readonly detailMm: number;
    readonly addressable: number;
    readonly nominal: number;
    readonly held: number;
  }[];
  readonly detail: {
    readonly alongLpPerMm: { readonly at50: number; readonly at10: number };
    readonly acrossLpPerMm: { readonly at50: number; readonly at10: number };
    readonly photoLpPerMm: number;
    readonly limitedBy: "spot" | "photo" | "pitch" | "firing";
    /**
     * Along the scan line: the frequencies at which spot and firing lag each leave half of the contrast, and the maximum of the
     * pitch.
     */
    readonly alongLimits: {
      readonly spotLpPerMm: number;
      readonly pitchLpPerMm: number;
      /** Only with a firing lag, like the speed up to which firing is not the limit. */
      readonly firingLpPerMm?: number;
      readonly limitedBy: "spot" | "pitch" | "firing";
      readonly firingFreeUpToMmPerS?: number;
      /**
       * Only with a firing loss. Every burst is shorter by it, and one no longer than that leaves no mark. Negative: longer, and a
       * gap no longer than that closes.
       */
      readonly firingLossMm?: number;
    };
  };
  readonly runTime: {
    /** Of all passes, like the time with the beam on. */
    readonly seconds: number;
    readonly lines: number;
    readonly blankLines: number;
    readonly beamOnSeconds: number;
    /** Scan speed with the shortest run time for these lines; above it run-up makes the job slower. 0 if nothing burns. */
    readonly quickestSpeedMmPerS: number;
  };
  /**
   * The candidates of the method `auto`, or for the start of a search, in the order in which it tried them. `trialError` is the expected visual error, in L*,
   * of a small picture with the tones of the photo (no more than 256 × 256 pixels). The error of the piece is in `prediction`.
   */
  readonly methodRanking?: readonly { readonly method: string; readonly trialError: number }[];
  /** Only with more than two power levels. */
  readonly powerLevels?: {
    /** Share of the pixels at any power above 0. */
    readonly beamOnFraction: number;
    /** Greatest step of a solid fill from one level to the next, in L*, and as a share of the change from bare to full power. */
    readonly largestStepLightness: number;
    readonly largestStepShare: number;
    /**
     * Maximum change of a fill at part power, in L*, between the doses 1 − σ and 1 + σ of the larger of the parts local and line.
     */
    readonly largestSwingLightness: number;
    /** Tones of the same job, in the same details, with the beam on or off; absent with `bitmapOnly`. */
    readonly onOff?: readonly {
      readonly detailMm: number;
      readonly nominal: number;
      readonly held: number;
    }[];
    /** The halftone of that job. */
    readonly onOffMethod?: string;
  };
  /** Only of a solid piece whose edges were placed. Lengths in mm; the larger of along and across if there are two. */
  readonly edges?: {
    /** Growth of a mark past the pixels that burn, along and across. Edges were moved inwards by the same length. */
    readonly growthAlongMm: number;
    readonly growthAcrossMm: number;
    /** Maximum distance of a straight edge from its drawn place, on average over its length. */
    readonly toleranceMm: number;
    /** Viewing distance from which edges look smooth, slanted ones too. */
    readonly smoothFromMm: number;
    readonly thinnestMarkMm: number;
    readonly closingGapMm: number;
    /** Strokes thinner than the thinnest mark, and gaps that close: their length, and the 5 % quantile of their width. */
    readonly thinStrokes: { readonly lengthMm: number; readonly thinnestMm: number };
    readonly closingGaps: { readonly lengthMm: number; readonly thinnestMm: number };
    /** Share of the picture that is neither ink nor paper. */
    readonly between: number;
  };
  readonly warnings: readonly Warning[];
  readonly cautions: readonly string[];
}
