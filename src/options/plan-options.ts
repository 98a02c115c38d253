import * as z from "zod";
import { SpotpitchError } from "../core/errors.js";
import { type LensSetup, type LensSpot, lensShapes, spotOfLens } from "../core/physics/lens.js";
import type { Spot } from "../core/spot.js";
import {
  above0,
  between,
  linesPerInch,
  oneOf,
  optionError,
  type PrepareOptions,
  prepareOptionsSchema,
  spot,
} from "./options.js";

const focalLengthMm = above0(5000, "mm");
const LIST_WORDS = "one value or a list of them";
const DETAIL_SIDES = [0.15, 0.25, 0.5, 1] as const;
const TONES_WORDS = "a number of tones, 2 to 100, and a detail of 0.15, 0.25, 0.5 or 1 mm";
const DARKNESS_WORDS = "a share of the way from the bare surface to the darkest mark, above 0 and at most 1";

/** What `plan` and `prepare` have in common. */
const sharedSchema = prepareOptionsSchema.omit({
  linesPerInch: true,
  linesPerInchAlong: true,
  spotMm: true,
  kind: true,
  bitmapOnly: true,
  format: true,
});

/**
 * What a caller may ask of `plan`: all that `prepare` takes but the density, and what bears on choosing one.
 */
export const planOptionsSchema = sharedSchema.extend({
  /** Kind of work: a photograph; a coating taken off in one solid; a solid tone, as on wood. */
  kind: oneOf(["photo", "strip", "shade"]).default("photo"),
  /** One measured spot, or several to compare. Default 0.1 mm, unless the optics are given. */
  spotMm: z
    .union([spot, z.array(spot).min(1, LIST_WORDS)], "a spot diameter in mm, or a list of them")
    .optional(),
  /** The optics, for a spot that nobody has measured; several focal lengths are compared. */
  wavelengthMm: z
    .number("0.0002 to 0.02 mm")
    .min(0.0002, "0.0002 to 0.02 mm")
    .max(0.02, "0.0002 to 0.02 mm")
    .optional(),
  focalLengthMm: z
    .union(
      [focalLengthMm, z.array(focalLengthMm).min(1, LIST_WORDS)],
      "a focal length in mm, or a list of them",
    )
    .optional(),
  beamDiameterMm: above0(500, "mm").optional(),
  propagationRatio: between(1, 1000).default(1),
  lensShape: oneOf(lensShapes).default("ideal"),
  lensIndex: between(1.01, 5).optional(),
  defocusMm: between(-100, 100, "mm").default(0),
  /** Densities that the machine offers. Default: eight from half to five times matched. */
  densities: z.array(linesPerInch, "a list of lines per inch").min(1, "a list of lines per inch").optional(),
  /** Longest run time allowed. */
  minutes: above0(10000, "minutes").optional(),
  /** Tones that a detail must carry while the dose wanders. */
  tones: z
    .strictObject(
      {
        count: z.number(TONES_WORDS).min(2, TONES_WORDS).max(100, TONES_WORDS),
        detailMm: z.union(
          DETAIL_SIDES.map((side) => z.literal(side)),
          TONES_WORDS,
        ),
      },
      TONES_WORDS,
    )
    .optional(),
  /** Without limits a photo gets the cheapest density after which doubling the time gains less than this share of held tones. */
  gain: between(0.01, 5).default(0.25),
  /** `strip`: measured width of a single line. Default: from the line's dose on a steep material, else the spot. */
  markMm: above0(5, "mm").optional(),
  /** `strip`: share by which neighbouring marks should overlap. */
  margin: between(0, 1).default(0.05),
  /** `strip` and `shade`: density to hold the choice against. Default: the highest offered, or 800. */
  against: linesPerInch.optional(),
  /** `shade`: wanted darkness (on a material that marks lighter, lightness), in L*. */
  darkness: z.number(DARKNESS_WORDS).positive(DARKNESS_WORDS).max(1, DARKNESS_WORDS).default(0.75),
});

/** What a caller may ask of `plan`. Every field is optional. */
export type PlanOptions = z.input<typeof planOptionsSchema>;
export type CheckedPlanOptions = Readonly<z.output<typeof planOptionsSchema>>;

/** The part of a plan's options that `prepare` takes: all but size, density and spot. */
export function preparedPart(options: CheckedPlanOptions): Omit<PrepareOptions, "widthMm" | "heightMm"> {
  const { widthMm: _width, heightMm: _height, ...rest } = sharedSchema.strip().parse(options);
  return rest;
}

/** A spot to plan for, and the lens behind it where it was computed. */
export interface PlanLens {
  /** For people: `spot 0.115 mm`, `f = 50.8 mm`. */
  readonly name: string;
  readonly spot: Spot;
  readonly optics?: LensSpot;
}

/** Options that one kind of work alone asks for. */
const OF_ONE_KIND = {
  tones: "photo",
  gain: "photo",
  markMm: "strip",
  margin: "strip",
  darkness: "shade",
} as const satisfies Partial<Record<keyof PlanOptions, CheckedPlanOptions["kind"]>>;

/** Check a caller's options. Throws `OPTION_INVALID`, `OPTION_UNKNOWN`, `OPTION_CONFLICT` for one that another kind of work takes. */
export function checkPlanOptions(options: PlanOptions): CheckedPlanOptions {
  const parsed = planOptionsSchema.safeParse(options);
  if (!parsed.success) throw optionError(parsed.error.issues[0], options);
  const given: Record<string, unknown> = options;
  for (const [option, kind] of Object.entries(OF_ONE_KIND)) {
    if (given[option] === undefined || kind === parsed.data.kind) continue;
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      `${option} is for ${kind} work; this plan is for ${parsed.data.kind} work. Leave it out, or change the kind.`,
      { option, received: given[option] },
    );
  }
  return Object.freeze(parsed.data);
}

const DEFAULT_SPOT_MM = 0.1;

/** The spots to compare, measured or computed. Throws `OPTION_CONFLICT` where both or only half of the optics are given. */
export function planLenses(options: CheckedPlanOptions): PlanLens[] {
  const { spotMm, wavelengthMm, focalLengthMm, beamDiameterMm } = options;
  const optics = { wavelengthMm, focalLengthMm, beamDiameterMm };
  const given = Object.entries(optics).filter(([, value]) => value !== undefined);
  if (given.length === 0) return listOf(spotMm ?? DEFAULT_SPOT_MM).map(measuredSpot);
  if (spotMm !== undefined) {
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      "Give the spot as measured, or the optics to compute it from, not both.",
      {
        option: "spotMm",
        received: spotMm,
      },
    );
  }
  if (wavelengthMm === undefined || focalLengthMm === undefined || beamDiameterMm === undefined) {
    const missing = Object.entries(optics).find(([, value]) => value === undefined)?.[0] ?? "";
    throw new SpotpitchError(
      "OPTION_CONFLICT",
      "A spot is computed from wavelength, focal length and beam diameter: all three are needed.",
      { option: missing },
    );
  }
  const { propagationRatio, lensShape: shape, lensIndex: index, defocusMm } = options;
  return listOf(focalLengthMm).map((focal) => {
    const lens: LensSetup = {
      wavelengthMm,
      focalLengthMm: focal,
      beamDiameterMm,
      propagationRatio,
      shape,
      index,
      defocusMm,
    };
    const computed = spotOfLens(lens);
    return {
      name: `f = ${digits(focal)} mm`,
      spot: { alongMm: computed.spotMm, acrossMm: computed.spotMm },
      optics: computed,
    };
  });
}

function measuredSpot(given: number | Spot): PlanLens {
  const spot = typeof given === "number" ? { alongMm: given, acrossMm: given } : given;
  const { alongMm, acrossMm } = spot;
  const size = alongMm === acrossMm ? digits(acrossMm) : `${digits(alongMm)} × ${digits(acrossMm)}`;
  return { name: `spot ${size} mm`, spot };
}

const listOf = <T>(value: T | readonly T[]): readonly T[] => (Array.isArray(value) ? value : [value as T]);
const digits = (value: number): number => Number(value.toPrecision(3));
