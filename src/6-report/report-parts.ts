/** The changes to the picture itself. Only those that were asked for. */
export interface PictureReport {
  /** The part of the photo that was kept, in pixels of the upright photo. */
  readonly crop?: {
    readonly leftPx: number;
    readonly topPx: number;
    readonly widthPx: number;
    readonly heightPx: number;
  };
  /** The point of the whole photo that should stay in view. */
  readonly focus?: { readonly xPx: number; readonly yPx: number };
  /** Name of the mask's file; empty if it has none. */
  readonly mask?: string;
  readonly oval?: true;
  readonly vignetteMm?: number;
  readonly border?: {
    /** The requested width. */
    readonly widthMm: number;
    /** Burned width of its vertical and its horizontal parts. */
    readonly uprightPx: number;
    readonly levelPx: number;
    /** Widths of their marks. */
    readonly uprightMarkMm: number;
    readonly levelMarkMm: number;
  };
  readonly borderGapMm?: number;
  /** The text below the picture, and the height of its capital letters. */
  readonly text?: { readonly words: string; readonly heightMm: number };
}

/** The power that gives a solid fill its dose, in each pass. */
export interface PowerToSet {
  readonly speedMmPerS: number;
  /** If nobody gave a speed: the power is then that at the speed of the full-tone setting. */
  readonly isSpeedAssumed?: true;
  readonly passes: number;
  /** Power over that of full tone at the reference density, at the same speed. Absent if the material has no reference. */
  readonly factor?: number;
  readonly referenceLinesPerInch?: number;
  /** Percent of the machine's power at this speed; may be over 100. Only if the full-tone setting was given. */
  readonly percent?: number;
  /** The full-tone setting that was given. */
  readonly found?: {
    readonly percent: number;
    readonly linesPerInch: number;
    readonly speedMmPerS: number;
    /** If the setting named its speed. Otherwise that is the job's. */
    readonly isSpeedNamed?: true;
  };
  /** Density at which a power test finds the full-tone setting. Only if nobody knows it yet. */
  readonly testLinesPerInch?: number;
  /** Only if that is over 100 %: the speed at which 100 % gives the dose. */
  readonly fullPowerSpeedMmPerS?: number;
  /** Only if that is over 100 %: more passes with which less is enough. Absent if no number of passes is enough. */
  readonly enoughPasses?: { readonly passes: number; readonly percent: number };
  /** In the words of the report's reader. */
  readonly message: string;
}

/** Changes to the tones of a photo. */
export interface ReportTone {
  /** Only with automatic levels: the tones of the photo that became black and white, 0 to 255 as the file stores them. */
  readonly darkest255?: number;
  readonly lightest255?: number;
  /** Strength with which dark parts were lifted, 0 to 1. */
  readonly lift: number;
  /** True if the strength was not set but found from the picture. */
  readonly liftAutomatic: boolean;
}
