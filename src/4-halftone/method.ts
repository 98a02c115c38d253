import type { KernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import type { SurfaceModel } from "../core/surface-model.js";

/** What a halftone may depend on beside the picture. */
export interface HalftoneSettings {
  readonly pitch: Pitch;
  readonly spot: Spot;
  /** `serpentine` scans every other line backwards, `raster` all lines the same way. */
  readonly scan: Scan;
  /** Seed of methods that draw random numbers: 32 bits. */
  readonly seed: number;
  /** Clustered-dot screens: lines of dots per inch, and their angle to the scan lines. */
  readonly screenLinesPerInch: number;
  readonly screenAngleDeg: number;
  /** Output feedback h of green noise, 0 (none) to 2: how strongly burned pixels clump. */
  readonly clumping: number;
  /** Power levels of a pixel, 2..256; more than 2 only with methods that take them. */
  readonly levels: number;
  /** Columns of a row that closes on itself, a multiple of 16; patterns go round it a whole number of times. 0 on flat work. */
  readonly ringColumns: number;
  /** What a burned pixel does to the surface, for methods that ask for it (`createSurfaceModel`); called once for each picture. */
  readonly surface?: () => SurfaceModel;
}

export type Scan = "serpentine" | "raster";

/** What a halftone works on: the picture's size, the largest number of rows at a time, and where its arrays go. */
export interface BandWork {
  readonly columns: number;
  readonly rows: number;
  readonly bandRows: number;
  readonly memory: KernelMemory;
}

/**
 * A halftone at work, a band of rows at a time: top to bottom, each row once. What one band leaves for the next is its own
 * state.
 */
export interface BandHalftone {
  /** [bandRows × columns] Room for burn fractions as in `core/burn-fraction.ts`; the caller fills it. Not modified. */
  readonly fractions: Int16Array;
  /** [bandRows × `bytesPerRow(columns, levels)`] The result: rows of a bitmap as in `core/packed-bits.ts`. */
  readonly packed: Uint8Array;
  /** Rows by which the result runs behind: `packed` starts with row y − `delayRows` of the picture. */
  readonly delayRows: number;
  /**
   * Halftones the first `rows` rows of `fractions`, which are rows y, y + 1, ... of the picture. Rows beyond the picture's
   * last are ignored: they only bring out delayed ones.
   */
  readonly run: (y: number, rows: number) => void;
  /** Forget everything, random numbers included: as if newly started. */
  readonly restart: () => void;
}

/** Kinds of halftone that differ in how they choose their dots. */
export type HalftoneFamily =
  | "error diffusion"
  | "variable-coefficient diffusion"
  | "green noise"
  | "dot diffusion"
  | "ordered dither"
  | "blue noise"
  | "clustered dot"
  | "dose feedback"
  | "threshold";

export interface HalftoneMethod {
  /** Name on the command line. */
  readonly id: string;
  readonly title: string;
  readonly family: HalftoneFamily;
  /** Author, title, year. */
  readonly source: string;
  /** False where the mean of the result is not the mean of what was asked for (Atkinson, plain threshold). */
  readonly keepsMean: boolean;
  /**
   * Fractions ask for marked area, not for a share of the pixels: luminance factors linear from the bare surface (0) to a solid
   * fill (1). For a method that knows what its pixels do to the surface.
   */
  readonly asksForArea?: true;
  /** A sentence that a user should read before choosing it. */
  readonly note?: string;
  /** Lowest and highest ratio of pitch across to pitch along that the method was made for. */
  readonly pitchRatio?: readonly [min: number, max: number];
  /** It knows no rows that close on themselves. */
  readonly flatOnly?: true;
  /** Largest spot that it follows, in pixels along or across. */
  readonly maxSpotPx?: number;
  /**
   * Rows to run before the first, on the picture's own first rows turned upside down, so that the pattern has settled where the
   * picture begins: diffusion would leave the top of a light tint blank. 0 where rows do not depend on rows above. Even, so
   * that serpentine scans keep their direction.
   */
  readonly leadInRows: number;
  /** Whether each pixel may take one of more than two power levels. */
  readonly takesLevels: boolean;
  readonly start: (work: BandWork, settings: HalftoneSettings) => BandHalftone;
}
