import { inspect } from "node:util";
import { z } from "zod";
import { SpotpitchError } from "./errors.js";
import { findMaterial, type Material, resolveMaterial } from "./material.js";
import type { Pitch } from "./plane.js";
import type { BeamMotion, Spot } from "./spot.js";
import { linesPerInchFromPitchMm, pitchMmFromLinesPerInch } from "./units.js";

/** Most pixels a bitmap may have; 400 million is a 600 × 400 mm bed at 1000 lines per inch. */
export const MOST_PIXELS = 400e6;

const positiveMm = (most: number) => z.number().positive().max(most);
const density = z.number().min(20).max(5080);

/**
 * What a caller may ask of `prepare`. Every field is optional; defaults are filled in by `resolveOptions`, and what it
 * settled on stands in the report.
 */
export const prepareOptionsSchema = z.strictObject({
  /** Engraved size. One alone keeps the photo's aspect ratio; neither makes the longer side 100 mm. */
  widthMm: positiveMm(3000).optional(),
  heightMm: positiveMm(3000).optional(),
  /** With both sizes given: fill and crop, fit inside, or distort. */
  fit: z.enum(["cover", "contain", "stretch"]).default("cover"),
  /** Scan lines per inch, across the lines. Default: twice the matched density for a gradual material, 1.15 times for a steep one. */
  linesPerInch: density.optional(),
  /** Pixels per inch along the lines. Default: as across. */
  linesPerInchAlong: density.optional(),
  /** 1/e² diameter; elliptical spots along and across. */
  spotMm: z
    .union([
      positiveMm(5).min(0.005),
      z.strictObject({ alongMm: positiveMm(5).min(0.005), acrossMm: positiveMm(5).min(0.005) }),
    ])
    .default(0.1),
  /** A preset's name, or a material file's content. */
  material: z.union([z.string(), z.record(z.string(), z.unknown())]).default("maple"),
  kind: z.enum(["photo"]).default("photo"),
  levels: z.literal(2).default(2),
  /** A halftone method's name, or `auto`: the least expected visual error on this photo. */
  method: z.string().default("auto"),
  scan: z.enum(["serpentine", "raster"]).default("serpentine"),
  /** Clustered-dot screens: lines of dots per inch (default: a period of two and a half spots) and angle in degrees. */
  screenLinesPerInch: z.number().min(5).max(2000).optional(),
  screenAngleDeg: z.number().min(-90).max(90).default(45),
  /** Output feedback of green noise. */
  clumping: z.number().min(0).max(2).default(1),
  toneMap: z.enum(["lightness", "luminance"]).default("lightness"),
  compensate: z.boolean().default(true),
  autoTone: z.boolean().default(true),
  clipPercent: z.number().min(0).max(10).default(0.1),
  brightness: z.number().min(-100).max(100).default(0),
  contrast: z.number().min(-100).max(100).default(0),
  gamma: z.number().min(0.1).max(10).default(1),
  localContrast: z.number().min(0).max(2).default(0),
  sharpen: z.number().min(0).max(2).default(0),
  speedMmPerS: z.number().positive().max(20000).default(300),
  accelerationMmPerS2: z.number().positive().max(1e6).default(5000),
  stepTimeS: z.number().min(0).max(10).default(0),
  firingLagUs: z.number().min(0).max(10000).default(0),
  lineShiftMm: z.number().min(-1).max(1).default(0),
  oneWay: z.boolean().default(false),
  /** Process spread s of the dose, as a fraction. */
  doseSpread: z.number().min(0).max(0.5).default(0.1),
  viewDistanceMm: z.number().min(50).max(10000).default(300),
  mirror: z.boolean().default(false),
  /** Write the bitmap and a report without prediction and preview: for speed. */
  bitmapOnly: z.boolean().default(false),
  format: z.enum(["png", "tiff", "bmp"]).default("png"),
  seed: z.number().int().min(0).max(0xffffffff).default(1),
});

export type PrepareOptions = z.input<typeof prepareOptionsSchema>;
type Checked = z.output<typeof prepareOptionsSchema>;

/** The options in force: no field missing, nothing left to decide but the method when it is `auto`. */
export interface ResolvedOptions
  extends Omit<Checked, "spotMm" | "material" | "linesPerInch" | "linesPerInchAlong" | "screenLinesPerInch"> {
  readonly spot: Spot;
  readonly pitch: Pitch;
  readonly material: Material;
  readonly screenLinesPerInch: number;
  readonly motion: BeamMotion;
}

/** Densities that `prepare` takes when none is asked for, in multiples of the matched density. */
const DEFAULT_OVERDRIVE = { gradual: 2, steep: 1.15 } as const;

/** Period of a clustered-dot screen that still resolves its dots, in spot diameters. */
const SCREEN_PERIOD_SPOTS = 2.5;

/**
 * Check a caller's options, fill in defaults, and freeze the result. Inner code takes only this form.
 * Throws `OPTION_INVALID`, `OPTION_UNKNOWN`, and what `findMaterial` and `resolveMaterial` throw.
 */
export function resolveOptions(options: PrepareOptions): ResolvedOptions {
  const parsed = prepareOptionsSchema.safeParse(options);
  if (!parsed.success) throw optionError(parsed.error.issues[0], options);
  const {
    spotMm,
    material: asked,
    linesPerInch,
    linesPerInchAlong,
    screenLinesPerInch,
    ...rest
  } = parsed.data;
  const spot = typeof spotMm === "number" ? { alongMm: spotMm, acrossMm: spotMm } : spotMm;
  const material = typeof asked === "string" ? findMaterial(asked) : resolveMaterial(asked);
  const matched = linesPerInchFromPitchMm(spot.acrossMm);
  const across = linesPerInch ?? Math.round(matched * DEFAULT_OVERDRIVE[material.shape]);
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  return Object.freeze({
    ...rest,
    spot,
    material,
    pitch: {
      alongMm: pitchMmFromLinesPerInch(linesPerInchAlong ?? across),
      acrossMm: pitchMmFromLinesPerInch(across),
    },
    screenLinesPerInch: screenLinesPerInch ?? linesPerInchFromPitchMm(SCREEN_PERIOD_SPOTS * meanSpotMm),
    motion: {
      speedMmPerS: rest.speedMmPerS,
      firingLagUs: rest.firingLagUs,
      lineShiftMm: rest.lineShiftMm,
      oneWay: rest.oneWay,
    },
  });
}

function optionError(issue: z.core.$ZodIssue, options: unknown): SpotpitchError {
  if (issue.code === "unrecognized_keys") {
    const option = issue.keys[0];
    return new SpotpitchError("OPTION_UNKNOWN", `There is no option ${option}.`, { option });
  }
  const option = String(issue.path[0] ?? "options");
  const received = issue.path.length === 0 ? options : (options as Record<string, unknown>)[option];
  return new SpotpitchError(
    "OPTION_INVALID",
    `${option} cannot be ${inspect(received)}: ${issue.message.replace(/^Invalid input: /, "")}.`,
    { option, received, allowed: issue.message },
  );
}
