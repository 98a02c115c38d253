import type { KernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import type { SurfaceModel } from "../core/surface-model.js";
import type { ThresholdTile } from "./threshold-tile.js";

/** Settings of a halftone, beside the picture. */
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
  /** Power levels of a pixel, 2..256; more than 2 only for methods that support them. */
  readonly levels: number;
  /** Columns of a closed row, a multiple of 16: patterns repeat round it a whole number of times. 0 on flat work. */
  readonly ringColumns: number;
  /** Grown tiles of clustered dots, kept from one halftone of a job to the next. */
  readonly tiles?: Map<string, ThresholdTile>;
  /** Effect of a burned pixel on the surface (`createSurfaceModel`), for methods that need it. Called once for each picture. */
  readonly surface?: () => SurfaceModel;
}

export type Scan = "serpentine" | "raster";

/** Size of a picture, the largest number of rows at a time, and memory for the arrays. */
export interface BandWork {
  readonly columns: number;
  readonly rows: number;
  readonly bandRows: number;
  readonly memory: KernelMemory;
}

/**
 * A halftone in progress. It takes bands of rows from top to bottom, each row once, and keeps the state between bands.
 */
export interface BandHalftone {
  /** [bandRows × columns] Burn fractions as in `core/burn-fraction.ts`, filled by the caller. Not modified. */
  readonly fractions: Int16Array;
  /** [bandRows × `bytesPerRow(columns, levels)`] The result: rows of a bitmap as in `core/packed-bits.ts`. */
  readonly packed: Uint8Array;
  /** Delay of the result: `packed` starts with row y − `delayRows` of the picture. */
  readonly delayRows: number;
  /**
   * Halftones the first `rows` rows of `fractions`: rows y, y + 1, ... of the picture. Rows after the last row of the picture
   * are ignored and only bring out delayed rows.
   */
  readonly run: (y: number, rows: number) => void;
  /** Resets all state, random numbers included. */
  readonly restart: () => void;
}

/** Pixels after which a pattern repeats, perhaps moved sideways. */
export interface Repeat {
  readonly columns: number;
  readonly rows: number;
}

/** Families of halftones, by how they choose their dots. */
export type HalftoneFamily =
  | "error diffusion"
  | "variable-coefficient diffusion"
  | "green noise"
  | "dot diffusion"
  | "ordered dither"
  | "blue noise"
  | "clustered dot"
  | "dose feedback"
  | "direct search"
  | "threshold";

/** Settings that only some methods use: the scan, random numbers, clumping, ruling and angle of a screen. */
export type HalftoneUse = "scan" | "seed" | "clumping" | "screen";

export interface HalftoneMethod {
  /** Name on the command line. */
  readonly id: string;
  readonly title: string;
  readonly family: HalftoneFamily;
  /** Author, title, year. */
  readonly source: string;
  /**
   * Rank of its texture: 0 for scattered single dots, 1 for small clumps or a fine regular pattern, 2 for a screen of clusters.
   * A higher rank is more conspicuous at the same visual error.
   */
  readonly coarseness: number;
  /** False if the mean of the result is not the wanted mean (Atkinson, plain threshold). */
  readonly keepsMean: boolean;
  /**
   * Fractions mean marked area, not a share of the pixels: linear in the luminance factor from the bare surface (0) to a solid
   * fill (1). For a method with a surface model.
   */
  readonly asksForArea?: true;
  /** Advice to the user before the choice. */
  readonly note?: string;
  /** Range of the ratio pitch across / pitch along that the method is made for. */
  readonly pitchRatio?: readonly [min: number, max: number];
  /** It does not support closed rows. */
  readonly flatOnly?: true;
  /** Largest supported spot, in pixels along or across. */
  readonly maxSpotPx?: number;
  /**
   * Rows to run before the first row, on the first rows of the picture turned upside down. The pattern is then settled at the
   * top; otherwise diffusion would leave the top of a light tint blank. 0 if rows do not depend on the rows above. Always even,
   * so serpentine scans keep their direction.
   */
  readonly leadInRows: number;
  /** The settings that it uses of those that only some methods use. */
  readonly uses: readonly HalftoneUse[];
  /** Whether it supports more than two power levels. */
  readonly takesLevels: boolean;
  /** The pipeline searches on from what this method makes of the burn fractions. */
  readonly searches?: true;
  /** Size of the rectangle after which its pattern repeats. It holds every threshold equally often. Absent without a pattern. */
  readonly repeat?: (settings: HalftoneSettings) => Repeat;
  readonly start: (work: BandWork, settings: HalftoneSettings) => BandHalftone;
}
