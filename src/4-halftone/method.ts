import type { Pitch } from "../core/plane.js";
import type { Random } from "../core/random.js";
import type { Spot } from "../core/spot.js";

/** What a halftone may depend on beside the picture. All resolved: no optional field. */
export interface HalftoneSettings {
  readonly pitch: Pitch;
  readonly spot: Spot;
  /** `serpentine` scans every other line backwards, `raster` all lines the same way. */
  readonly scan: Scan;
  readonly random: () => Random;
  /** Clustered-dot screens: lines of dots per inch, and their angle to the scan lines. */
  readonly screenLinesPerInch: number;
  readonly screenAngleDeg: number;
  /** Output feedback h of green noise, 0 (none) to 2: how strongly burned pixels clump. */
  readonly clumping: number;
}

export type Scan = "serpentine" | "raster";

/** What error diffusion does with error that would leave the picture at its sides. */
export type Sides = "keep" | "drop";

/**
 * Turns row y of burn fractions (0..1) into a row of bits (1 = burn). Rows come top to bottom, each once; what one row
 * leaves for the next is the function's own state.
 */
export type RowHalftone = (fractions: Float32Array, y: number, bits: Uint8Array) => void;

/** Turns a whole plane of burn fractions into bits, where the method does not go row by row. */
export type PlaneHalftone = (
  fractions: Float32Array,
  columns: number,
  rows: number,
  bits: Uint8Array,
) => void;

export type HalftoneFamily =
  | "error diffusion"
  | "variable-coefficient diffusion"
  | "green noise"
  | "dot diffusion"
  | "ordered dither"
  | "blue noise"
  | "clustered dot"
  | "threshold";

interface MethodFacts {
  /** Name on the command line. */
  readonly id: string;
  readonly title: string;
  readonly family: HalftoneFamily;
  /** Author, title, year. */
  readonly source: string;
  /** False where the mean of the bits is not the mean of the fractions (Atkinson, plain threshold). */
  readonly keepsMean: boolean;
  /** A sentence that a user should read before choosing it. */
  readonly note?: string;
  /** Lowest and highest ratio of pitch across to pitch along that the method was made for. */
  readonly pitchRatio?: readonly [least: number, most: number];
}

export type HalftoneMethod = MethodFacts &
  (
    | {
        readonly kind: "rows";
        /**
         * Rows to run before the first, on the picture's own first rows turned upside down, so that the pattern has settled
         * where the picture begins: diffusion would leave the top of a light tint blank. 0 where rows do not depend on rows
         * above. Even, so that serpentine scans keep their direction.
         */
        readonly leadInRows: number;
        readonly start: (columns: number, settings: HalftoneSettings) => RowHalftone;
      }
    | { readonly kind: "plane"; readonly start: (settings: HalftoneSettings) => PlaneHalftone }
  );
