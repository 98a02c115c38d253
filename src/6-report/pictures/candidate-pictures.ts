import type { RgbPicture } from "./canvas.js";

/** A part of a piece as seen, in shares 0..1 of its width and height. */
export interface PartOfPiece {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Pictures of one candidate in a comparison: the reduced predicted piece, and a part of it at full resolution. */
export interface CandidatePictures {
  /** The whole piece, a JPEG file. */
  readonly whole: Uint8Array;
  /** Nearly the same part in all candidates, to a pixel of each one's bitmap. */
  readonly closeUp: {
    readonly part: PartOfPiece;
    /** The middle of the most detailed place of the part, in shares of the piece. */
    readonly detail: { readonly x: number; readonly y: number };
    /** In pixels of the bitmap. */
    readonly columns: number;
    readonly rows: number;
    /** The marks as predicted, a JPEG file. */
    readonly marks: Uint8Array;
    /** The pixels of the bitmap one by one, a PNG file: black = burn. */
    readonly dots: Uint8Array;
  };
  /** For a contact sheet: the whole piece, and marks from the middle of the part. */
  readonly small: { readonly whole: RgbPicture; readonly marks: RgbPicture };
}
