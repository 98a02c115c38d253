/** A small part of a piece as predicted: the same place at each density of a plan, in the material's colours and as seen. */
export interface DetailPicture {
  /** A JPEG file. */
  readonly file: Uint8Array;
  /** Size of the part on the work. */
  readonly widthMm: number;
  readonly heightMm: number;
}
