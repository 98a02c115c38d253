/** A part of a picture or bitmap in whole pixels, from its upper left corner. */
export interface PixelRectangle {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}
