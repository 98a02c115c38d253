/** How an upload may be treated: as it is, with a note, or after a question to the customer. */
export type Grade = "ready" | "note" | "ask";

/** The subject of a finding. Codes stay; sentences may change. */
export type FindingCode =
  | "DAMAGED"
  | "TOO_FEW_PIXELS"
  | "BLURRED"
  | "GRAINY"
  | "CLIPPED_HIGHLIGHTS"
  | "CLIPPED_SHADOWS"
  | "TOO_DARK"
  | "TOO_PALE"
  | "LOW_CONTRAST"
  | "BLOCKS"
  | "ALREADY_DITHERED"
  | "SCREENSHOT"
  | "ARTWORK"
  | "TRANSPARENT"
  | "MANY_PAGES"
  | "TEXT_NOT_OUTLINED"
  | "CROPPED"
  | "STRETCHED"
  | "EXTREME_SHAPE"
  | "NOTHING_BURNS"
  | "COLOURS_MERGE"
  | "PARTS_LOST"
  | "SHADES_LOST";

/** One thing about an upload that somebody should know. */
export interface Finding {
  readonly code: FindingCode;
  readonly grade: "note" | "ask";
  /** What the workshop should know, in words. */
  readonly message: string;
  /** One or two sentences that can be sent to the customer unchanged. */
  readonly customer: string;
  /** The names and figures in it. */
  readonly data: object;
}

/** The figures that triage measures. */
export interface TriageFigures {
  readonly widthPx: number;
  readonly heightPx: number;
  /** On the piece, in the coarser direction; 0 for a drawing, which has no pixels. */
  readonly pxPerMm: number;
  /** The resolution of spot and pitch. */
  readonly neededPxPerMm: number;
  /** Maximum width of the piece for which the pixels are enough. */
  readonly largestWidthMm: number;
  /** Blur on the piece, as the full width at half maximum of a Gaussian, and the same in spots; absent if there are no edges. */
  readonly blurMm?: number;
  readonly blurSpots?: number;
  /** Standard deviation of noise on a spot, as a share of the scale between black and white; absent for a drawing. */
  readonly grainShare?: number;
  readonly clippedHighlights: number;
  readonly clippedShadows: number;
  readonly lightnessRange: number;
  /** Height of the steps between blocks of compression on the piece as the eye sees it, in 8-bit codes. */
  readonly blocking: number;
}

/** The grade of an upload with these findings: the worst. */
export function gradeOf(findings: readonly Pick<Finding, "grade">[]): Grade {
  if (findings.some(({ grade }) => grade === "ask")) return "ask";
  return findings.length > 0 ? "note" : "ready";
}
