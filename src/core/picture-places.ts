/** The part of the upright photo to keep: all values in percent of the photo, or all in its pixels. */
export type Crop =
  | {
      readonly leftPercent: number;
      readonly topPercent: number;
      readonly widthPercent: number;
      readonly heightPercent: number;
    }
  | { readonly leftPx: number; readonly topPx: number; readonly widthPx: number; readonly heightPx: number };

/** Where a picture lies on a round piece: from the rim to its top, and from a mark to its middle, to the right with the rim up. */
export interface PlaceOnRound {
  readonly fromRimMm?: number | undefined;
  readonly angleDeg?: number | undefined;
}

/** A point of a photo, in percent of it or in its pixels. */
export type Focus =
  | { readonly xPercent: number; readonly yPercent: number }
  | { readonly xPx: number; readonly yPx: number };
