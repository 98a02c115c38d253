/** A patch of a card as it was read, and what the fit says of it: what the variation of the dose is told by. */
export interface VariedPatch {
  /** Its place among all patches of the card. */
  readonly patch: number;
  readonly pattern: string;
  /** Middle of the patch. */
  readonly xMm: number;
  readonly yMm: number;
  /** ln of the luminance factor over the fitted one. */
  readonly offset: number;
  /** Change of ln luminance with ln dose. */
  readonly gain: number;
  /** Of each line of one period, from the top of the patch: its dose as a share of the mean. */
  readonly lines: Float64Array;
  /** Cosine waves of ln light across the lines (`rowWaves`). */
  readonly waves: Float64Array;
}

/** What all patches of a card share. */
export interface PatchGrid {
  /** Sides of the part of a patch whose mean is read. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Height over which waves are taken. */
  readonly waveHeightMm: number;
  /** Across the lines. */
  readonly pitchMm: number;
  /** From the middle of one patch to that of the next. */
  readonly stepMm: number;
  /** Across the lines. */
  readonly spotMm: number;
  /** A pixel of the picture on the card. */
  readonly pixelMm: number;
}

/** The patches of one card. */
export interface VariedCard {
  readonly grid: PatchGrid;
  readonly patches: readonly VariedPatch[];
}

/** Mean product of the lines' doses of two patches that begin at the same line. */
export function sharedLines(a: Float64Array, b: Float64Array): number {
  const count = commonMultiple(a.length, b.length);
  let sum = 0;
  for (let j = 0; j < count; j++) sum += a[j % a.length] * b[j % b.length];
  return sum / count;
}

const commonMultiple = (a: number, b: number): number => (a / greatestDivisor(a, b)) * b;
const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));
