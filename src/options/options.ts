import { inspect } from "node:util";
import * as z from "zod";
import { SpotpitchError } from "../core/errors.js";
import { findMaterial, type Material, resolveMaterial } from "../core/material/material.js";
import type { Pitch } from "../core/plane.js";
import { MOST_LEVELS } from "../core/power-levels.js";
import type { BeamMotion, Spot } from "../core/spot.js";
import { linesPerInchFromPitchMm, pitchMmFromLinesPerInch } from "../core/units.js";
import {
  checkSlant,
  circumferenceMm,
  closedColumns,
  coneLayouts,
  middleDiameterMm,
  type Wrap,
} from "../core/wrap.js";
import { pictureFields } from "./picture-options.js";
import { solidOptions } from "./solid-options.js";

/** Most pixels a bitmap may have; 400 million is a 600 × 400 mm bed at 1000 lines per inch. */
export const MOST_PIXELS = 400e6;

/*
 * Every field says in words what it takes, unit and limits included: a refusal reads "<option> takes <those words>".
 */
export const between = (least: number, most: number, unit = "") => {
  const words = `${least} to ${most}${unit && ` ${unit}`}`;
  return z.number(words).min(least, words).max(most, words);
};
export const above0 = (most: number, unit: string) => {
  const words = `more than 0 and at most ${most} ${unit}`;
  return z.number(words).positive(words).max(most, words);
};
export const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words) =>
  z.enum(words, words.length === 1 ? words[0] : `one of ${words.join(", ")}`);
const yesOrNo = z.boolean("true or false");

const sizeMm = above0(3000, "mm");
export const LEAST_LINES_PER_INCH = 20;
export const MOST_LINES_PER_INCH = 5080;
export const linesPerInch = between(LEAST_LINES_PER_INCH, MOST_LINES_PER_INCH, "lines per inch");
const SPOT_WORDS = "0.005 to 5 mm: one diameter, or one along and one across";
const spotDiameterMm = z.number(SPOT_WORDS).min(0.005, SPOT_WORDS).max(5, SPOT_WORDS);
export const spot = z.union(
  [spotDiameterMm, z.strictObject({ alongMm: spotDiameterMm, acrossMm: spotDiameterMm }, SPOT_WORDS)],
  SPOT_WORDS,
);
/** A circumference of 3000 mm, as the other sizes. */
const AROUND_WORDS = "a diameter of 1 to 950 mm, or two for a cone, top and bottom";
const aroundDiameterMm = z.number(AROUND_WORDS).min(1, AROUND_WORDS).max(950, AROUND_WORDS);
const SPREAD_WORDS = "0 to 50 %, in code 0 to 0.5";
const LEVELS_WORDS = "a whole number from 2 (on and off) to 256";
export const levels = z.int(LEVELS_WORDS).min(2, LEVELS_WORDS).max(MOST_LEVELS, LEVELS_WORDS);
const SEED_WORDS = "a whole number from 0 to 4294967295";

/**
 * What a caller may ask of `prepare`. Every field is optional; defaults are filled in by `resolveOptions`, and what it
 * settled on stands in the report.
 */
export const prepareOptionsSchema = z.strictObject({
  /** Engraved size. One alone keeps the photo's aspect ratio; neither makes the longer side 100 mm. */
  widthMm: sizeMm.optional(),
  heightMm: sizeMm.optional(),
  /** A round piece, engraved all the way round: its diameter, or those of a cone. Takes the place of the width. */
  aroundMm: z
    .union(
      [
        aroundDiameterMm,
        z.strictObject({ topMm: aroundDiameterMm, bottomMm: aroundDiameterMm }, AROUND_WORDS),
      ],
      AROUND_WORDS,
    )
    .optional(),
  /** On a cone: undistorted as on a flat sheet that is rolled up, or along its circles with sides that meet. */
  coneLayout: oneOf(coneLayouts).default("flat"),
  /** With both sizes given: fill and crop, fit inside, or distort. */
  fit: oneOf(["cover", "contain", "stretch"]).default("cover"),
  ...pictureFields,
  /** Scan lines per inch, across the lines. Default: twice the matched density for a gradual material, 1.15 times for a steep one. */
  linesPerInch: linesPerInch.optional(),
  /** Pixels per inch along the lines. Default: as across. */
  linesPerInchAlong: linesPerInch.optional(),
  /** 1/e² diameter; elliptical spots along and across. */
  spotMm: spot.default(0.1),
  /** A preset's name, or a material file's content. */
  material: z
    .union([z.string(), z.record(z.string(), z.unknown())], "a preset's name, or what a material file holds")
    .default("maple"),
  /**
   * A tonal picture, or a logo or lettering: `solid` has no halftone and no tone curve, but puts edges where they are drawn.
   * `auto` takes a picture for `solid` where it is that beyond doubt, and nothing is asked for that only a photo has.
   */
  kind: oneOf(["auto", "photo", "solid"]).default("auto"),
  /** Power levels of a pixel: 2 is on and off, more need a machine that sets its power from pixel to pixel. */
  levels: levels.default(2),
  /**
   * A halftone method's name, or `auto`: a few methods are tried on a typical part of the photo, 256 × 256 pixels at most, and
   * the least expected visual error decides; within 3 % the simplest stays.
   */
  method: z.string("a halftone method's name, or auto").default("auto"),
  scan: oneOf(["serpentine", "raster"]).default("serpentine"),
  /** Clustered-dot screens: lines of dots per inch (default: a period of 2 spots, on a steep material 2.5) and angle in degrees. */
  screenLinesPerInch: between(5, 2000, "lines per inch").optional(),
  screenAngleDeg: between(-90, 90, "degrees").default(45),
  /** Output feedback of green noise. */
  clumping: between(0, 2).default(1),
  toneMap: oneOf(["lightness", "luminance"]).default("lightness"),
  compensate: yesOrNo.default(true),
  autoTone: yesOrNo.default(true),
  clipPercent: between(0, 10, "%").default(0.1),
  brightness: between(-100, 100).default(0),
  contrast: between(-100, 100).default(0),
  gamma: between(0.1, 10).default(1),
  localContrast: between(0, 2).default(0),
  sharpen: between(0, 2).default(0),
  speedMmPerS: above0(20000, "mm/s").default(300),
  accelerationMmPerS2: above0(1e6, "mm/s²").default(5000),
  stepTimeS: between(0, 10, "s").default(0),
  firingLagUs: between(0, 10000, "µs").default(0),
  lineShiftMm: between(-1, 1, "mm").default(0),
  oneWay: yesOrNo.default(false),
  /** Process spread s of the dose, as a fraction. */
  doseSpread: z.number(SPREAD_WORDS).min(0, SPREAD_WORDS).max(0.5, SPREAD_WORDS).default(0.1),
  viewDistanceMm: between(50, 10000, "mm").default(300),
  mirror: yesOrNo.default(false),
  /** Swap light and dark, so that what would stay bare burns. */
  negative: yesOrNo.default(false),
  /** Write the bitmap and a report without prediction and preview: for speed. */
  bitmapOnly: yesOrNo.default(false),
  format: oneOf(["png", "tiff", "bmp"]).default("png"),
  seed: z.int(SEED_WORDS).min(0, SEED_WORDS).max(0xffffffff, SEED_WORDS).default(1),
});

/** What a caller may ask of `prepare`. Every field is optional. */
export type PrepareOptions = z.input<typeof prepareOptionsSchema>;
type Checked = z.output<typeof prepareOptionsSchema>;

/** The options in force: no field missing, nothing left to decide but the kind and the method where they are `auto`. */
export interface ResolvedOptions
  extends Omit<
    Checked,
    | "spotMm"
    | "material"
    | "linesPerInch"
    | "linesPerInchAlong"
    | "screenLinesPerInch"
    | "aroundMm"
    | "coneLayout"
  > {
  readonly spot: Spot;
  /** A round piece; `widthMm` is then its circumference, a cone's half-way down. */
  readonly wrap: Wrap | undefined;
  /** Columns of a row that closes on itself; 0 on flat work. */
  readonly ringColumns: number;
  readonly pitch: Pitch;
  readonly material: Material;
  readonly screenLinesPerInch: number;
  readonly motion: BeamMotion;
}

export type PictureKind = "photo" | "solid";

/** The kind decided as well. */
export type SettledOptions = ResolvedOptions & { readonly kind: PictureKind };

/** Densities that `prepare` takes when none is asked for, in multiples of the matched density. */
const DEFAULT_OVERDRIVE = { gradual: 2, steep: 1.15 } as const;

/**
 * Period of a clustered-dot screen in spot diameters. At 2 a detail of 0.25 mm keeps as many tones as with scattered dots, at
 * 2.5 a third fewer; but a steep material needs the larger dots, which take up to a fifth off its error under the dose spread.
 */
const SCREEN_PERIOD_SPOTS = { gradual: 2, steep: 2.5 } as const;

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
    aroundMm,
    coneLayout,
    ...rest
  } = parsed.data;
  const spot = typeof spotMm === "number" ? { alongMm: spotMm, acrossMm: spotMm } : spotMm;
  const material = typeof asked === "string" ? findMaterial(asked) : resolveMaterial(asked);
  const across = linesPerInch ?? defaultLinesPerInch(spot.acrossMm, material.shape);
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const alongMm = pitchMmFromLinesPerInch(linesPerInchAlong ?? across);
  const wrap = aroundMm === undefined ? undefined : wrapOf(aroundMm, coneLayout, rest);
  const roundMm = wrap && circumferenceMm(middleDiameterMm(wrap));
  const ringColumns = roundMm === undefined ? 0 : closedColumns(roundMm, alongMm);
  if (roundMm !== undefined) checkRing(roundMm / ringColumns, alongMm);
  return Object.freeze({
    ...rest,
    ...(rest.kind === "solid" && solidOptions(rest)),
    widthMm: roundMm ?? rest.widthMm,
    wrap,
    ringColumns,
    spot: Object.freeze(spot),
    material,
    pitch: Object.freeze({
      alongMm: roundMm === undefined ? alongMm : roundMm / ringColumns,
      acrossMm: pitchMmFromLinesPerInch(across),
    }),
    screenLinesPerInch:
      screenLinesPerInch ?? linesPerInchFromPitchMm(SCREEN_PERIOD_SPOTS[material.shape] * meanSpotMm),
    motion: Object.freeze({
      speedMmPerS: rest.speedMmPerS,
      firingLagUs: rest.firingLagUs,
      lineShiftMm: rest.lineShiftMm,
      oneWay: rest.oneWay,
    }),
  });
}

/** Throws `OPTION_CONFLICT` beside a width or what only a flat piece has, or for a height that makes no cone. */
function wrapOf(
  around: NonNullable<Checked["aroundMm"]>,
  layout: Wrap["layout"],
  { widthMm, heightMm, oval, focus }: Pick<Checked, "widthMm" | "heightMm" | "oval" | "focus">,
): Wrap {
  const [topMm, bottomMm] = typeof around === "number" ? [around, around] : [around.topMm, around.bottomMm];
  const wrap = Object.freeze({ topMm, bottomMm, layout });
  if (widthMm !== undefined) {
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      "aroundMm sets the width, which is once round the piece: leave the width out. For a picture on part of a cylinder give its width alone, for there it is engraved like a flat one.",
      { option: "aroundMm", received: widthMm },
    );
  }
  if (oval) {
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      "oval is for a flat piece: what goes all the way round has no sides. An oval picture on a cylinder is engraved like a flat one: give its width instead of a diameter.",
      { option: "oval", received: oval },
    );
  }
  if (focus && topMm !== bottomMm && layout === "flat") {
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      "focus has no use on a cone that is laid out flat, where the middle of the photo lies on the middle of the sheet. Crop the photo instead.",
      { option: "focus", received: focus },
    );
  }
  if (heightMm !== undefined && topMm !== bottomMm) checkSlant(wrap, heightMm);
  return wrap;
}

/** Most that columns may be moved apart or together to close, as a share of the pitch. */
const MOST_RING_CHANGE = 0.1;

/** Throws `OPTION_CONFLICT` where so few columns go round that closing them makes another density of it. */
function checkRing(closedMm: number, askedMm: number): void {
  if (Math.abs(closedMm / askedMm - 1) <= MOST_RING_CHANGE) return;
  throw new SpotpitchError(
    "OPTION_CONFLICT",
    `aroundMm is too small for this density along the lines: columns go round in sixteens, and would lie ${closedMm.toFixed(3)} mm apart instead of ${askedMm.toFixed(3)}. Ask for more lines per inch.`,
    { option: "aroundMm" },
  );
}

/** The density that `prepare` takes when none is asked for: whole lines per inch, within what may be asked for. */
export function defaultLinesPerInch(spotAcrossMm: number, shape: Material["shape"]): number {
  const wanted = Math.round(linesPerInchFromPitchMm(spotAcrossMm) * DEFAULT_OVERDRIVE[shape]);
  return Math.min(MOST_LINES_PER_INCH, Math.max(LEAST_LINES_PER_INCH, wanted));
}

/** What a failed check of options says to the user. */
export function optionError(issue: z.core.$ZodIssue, options: unknown): SpotpitchError {
  if (issue.code === "unrecognized_keys") {
    const option = issue.keys[0];
    return new SpotpitchError("OPTION_UNKNOWN", `There is no option ${option}.`, { option });
  }
  const option = String(issue.path[0] ?? "options");
  const allowed = issue.path.length === 0 ? "an object" : issue.message;
  const received = issue.path.length === 0 ? options : (options as Record<string, unknown>)[option];
  return new SpotpitchError("OPTION_INVALID", `${option} takes ${allowed}; got ${inspect(received)}.`, {
    option,
    received,
    allowed,
  });
}
