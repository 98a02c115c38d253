/** The subject of a warning. Codes stay; sentences may change. */
export type WarningCode =
  | "photo-damaged"
  | "few-tones"
  | "picture-over-mark"
  | "nothing-burns"
  | "mostly-burned"
  | "taken-for-artwork"
  | "looks-like-artwork"
  | "negative-idle"
  | "much-cut-off"
  | "ragged-edges"
  | "photo-dithered"
  | "photo-blurred"
  | "photo-low-contrast"
  | "photo-blocks"
  | "photo-stretched"
  | "photo-clipped-shadows"
  | "photo-clipped-highlights"
  | "photo-screenshot"
  | "photo-pages"
  | "distinctions-lost"
  | "colours-merge"
  | "nothing-to-see"
  | "thin-strokes"
  | "closing-gaps"
  | "grey-areas"
  | "not-as-drawn"
  | "spot-large"
  | "line-gaps"
  | "power-too-weak"
  | "char-risk"
  | "response-extrapolated"
  | "photo-coarse-for-size"
  | "photo-coarser-than-density"
  | "steep-at-overdrive"
  | "dose-sensitive"
  | "uneven-dose"
  | "visible-grain"
  | "firing-blurs"
  | "bursts-shortened"
  | "lines-shifted"
  | "run-up-dominates"
  | "method-drops-tone"
  | "screen-too-fine"
  | "levels-no-gain"
  | "levels-band"
  | "seam-shows"
  | "cone-slope"
  | "cone-dose"
  | "uncompensated"
  | "option-idle"
  | "material-illustrative"
  | "material-not-measured-here"
  | "material-doubtful";

/** Something a user should know before burning, with what to do about it. */
export interface Warning {
  readonly code: WarningCode;
  /** In the words of the report's reader. */
  readonly message: string;
  /** The names and figures in it. */
  readonly data: object;
}
