import * as z from "zod";
import { lensShapes } from "../../core/physics/lens.js";
import { group } from "../group.js";
import { densities, density, length, lengths, number, share, spots, tones, word } from "../kinds.js";
import { workKinds } from "../option.js";
import { above0, between, linesPerInch, oneOf } from "../takes.js";
import { beamEntries } from "./focus.js";
import { DEFAULT_SPOT_MM, spotMm } from "./size.js";

const TONES_WORDS = "a number of tones, 2 to 100, and a detail of 0.15, 0.25, 0.5 or 1 mm";
const DARKNESS_WORDS =
  "a share of the way from the bare surface to the darkest mark, above 0 and no more than 1";
const DENSITIES_WORDS = "a list of lines per inch";

const detailMm = z.union([z.literal(0.15), z.literal(0.25), z.literal(0.5), z.literal(1)], TONES_WORDS);
const tonesInDetail = z.strictObject(
  { count: z.number(TONES_WORDS).min(2, TONES_WORDS).max(100, TONES_WORDS), detailMm },
  TONES_WORDS,
);

const oneOrMore = <Each extends z.ZodType>(each: Each, words: string) =>
  z.union([each, z.array(each).min(1, "one value or a list of them")], words);

/** Usual density for removing a coating; common practice, no source. */
export const USUAL_STRIP_LINES_PER_INCH = 800;

/** The work to plan. */
const workOptions = group("Work", {
  kind: word(
    "--kind <kind>",
    oneOf(workKinds).default("photo"),
    "photo; strip: remove a coating; shade: a solid tone, as on wood",
  ),
  minutes: number("--minutes <n>", above0(10000, "minutes").optional(), "longest run time allowed"),
  /** Tones that a detail must hold on a machine that varies. */
  tones: tones(
    "--tones <n@detail>",
    tonesInDetail.optional(),
    "photo: tones that a detail must hold: 12@0.25mm; details of 0.15, 0.25, 0.5 or 1 mm",
    { work: "photo" },
  ),
  /**
   * Without a number of tones, a photo gets the density from which twice the time adds less than this share to the useful tones.
   */
  gain: share(
    "--gain <percent>",
    between(0.01, 5).default(0.25),
    "photo without --tones: what another doubling of the time must add to the useful tones",
    { work: "photo", needs: "no-tones-asked" },
  ),
  markMm: length("--mark <length>", above0(5, "mm").optional(), "strip: measured width of one line", {
    otherwise: "from the line's dose on a steep material, else the spot",
    work: "strip",
  }),
  margin: share(
    "--margin <percent>",
    between(0, 1).default(0.05),
    "strip: by how much neighbouring lines should overlap",
    { work: "strip" },
  ),
  /** `shade`: wanted darkness, or lightness on a material that marks lighter, as a share of the range in L*. */
  darkness: share(
    "--darkness <percent>",
    z.number(DARKNESS_WORDS).positive(DARKNESS_WORDS).max(1, DARKNESS_WORDS).default(0.75),
    "shade: how far from the bare surface to the darkest mark, in L*",
    { work: "shade" },
  ),
  /** `strip` and `shade`: density to compare the choice with. Default: the highest offered, or 800. */
  against: density(
    "--against <lines>",
    linesPerInch.optional(),
    "the density you run now, to see what the choice saves",
    { otherwise: `for strip ${USUAL_STRIP_LINES_PER_INCH}` },
  ),
});

/** What the machine offers. */
const offeredOptions = group("Machine and viewing", {
  densities: densities(
    "--densities <list>",
    z.array(linesPerInch, DENSITIES_WORDS).min(1, DENSITIES_WORDS).optional(),
    "what the machine offers, a comma-separated list: 150,254,300,508",
    { otherwise: "about eight from half to five times the matched density, and the default of prepare" },
  ),
});

const measuredOptions = group("Spot, measured", {
  /** One measured spot, or several to compare. Default 0.1 mm, unless the optics are given. */
  spotMm: spots(
    "--spot <sizes>",
    oneOrMore(spotMm, "a spot diameter in mm, or a list of them").optional(),
    "1/e² diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm; a comma-separated list is compared",
    { otherwise: `${DEFAULT_SPOT_MM}mm`, assumed: true },
  ),
});

/** The optics, for a spot that is not measured. */
const opticsOptions = group("Spot, computed from the optics", {
  wavelengthMm: beamEntries.wavelengthMm,
  focalLengthMm: lengths(
    "--focal-length <lengths>",
    oneOrMore(above0(5000, "mm"), "a focal length in mm, or a list of them").optional(),
    "of the lens: 2in, 50.8mm; a comma-separated list is compared",
  ),
  beamDiameterMm: length(
    "--beam-diameter <length>",
    above0(500, "mm").optional(),
    "1/e² diameter of the beam that enters the lens",
  ),
  propagationRatio: beamEntries.propagationRatio,
  lensShape: word(
    "--lens <shape>",
    oneOf(lensShapes).default("ideal"),
    "ideal, best-form, plano-convex (curved side to the beam) or plano-convex-reversed",
    { needs: "optics" },
  ),
  lensIndex: number("--lens-index <n>", between(1.01, 5).optional(), "refractive index", {
    otherwise: "zinc selenide from 3um up, 1.5 below",
    needs: "optics",
  }),
  defocusMm: beamEntries.defocusMm,
});

/** Options that only `plan` takes. */
export const planOnlyOptions = { ...workOptions, ...offeredOptions, ...measuredOptions, ...opticsOptions };
