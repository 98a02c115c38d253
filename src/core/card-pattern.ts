/**
 * A pattern of a test card, in whole pixels: what repeats in a patch. "Along" is along a scan line. Line 0 of a patch is an even
 * line of the card, so on a machine that burns both ways it is burned on the way out.
 */
export type CardPattern =
  | { readonly kind: "bare" | "solid" }
  /** The first `on` of every `period` lines burn. */
  | { readonly kind: "lines"; readonly on: number; readonly period: number }
  /**
   * Every `linePeriod`-th line burns in dashes of `on` pixels with `off` bare ones between them. Each such line is displaced along
   * by `step` pixels from the one before.
   */
  | {
      readonly kind: "dashes";
      readonly on: number;
      readonly off: number;
      readonly step: number;
      readonly linePeriod: number;
    }
  /** A square of `side` pixels in every square of `period` burns; or everything but that square. */
  | { readonly kind: "dots" | "holes"; readonly side: number; readonly period: number }
  /** A chessboard of squares of `side` pixels. */
  | { readonly kind: "checks"; readonly side: number }
  /** Dashes of `on` pixels with `off` bare ones between them on every line. On odd lines they start `shift` pixels further along. */
  | { readonly kind: "vernier"; readonly on: number; readonly off: number; readonly shift: number }
  /** Every pixel burns at this power level. */
  | { readonly kind: "fill"; readonly level: number };
