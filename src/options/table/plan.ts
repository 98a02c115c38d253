import * as z from "zod";
import { lensShapes } from "../../core/physics/lens.js";
import { group, listOf, workKinds } from "../option.js";
import { above0, between, linesPerInch, oneOf } from "../takes.js";
import * as text from "../text-forms.js";
import { DEFAULT_SPOT_MM, spotMm } from "./size.js";

const TONES_WORDS = "a number of tones, 2 to 100, and a detail of 0.15, 0.25, 0.5 or 1 mm";
const DARKNESS_WORDS =
  "a share of the way from the bare surface to the darkest mark, above 0 and no more than 1";
const WAVELENGTH_WORDS = "0.0002 to 0.02 mm";
const DENSITIES_WORDS = "a list of lines per inch";

const detailMm = z.union([z.literal(0.15), z.literal(0.25), z.literal(0.5), z.literal(1)], TONES_WORDS);
const tones = z.strictObject(
  { count: z.number(TONES_WORDS).min(2, TONES_WORDS).max(100, TONES_WORDS), detailMm },
  TONES_WORDS,
);

const oneOrMore = <Each extends z.ZodType>(each: Each, words: string) =>
  z.union([each, z.array(each).min(1, "one value or a list of them")], words);

/** What a plan is made for. */
const workOptions = group("Work", {
  /** Kind of work: a photograph; a coating taken off in one solid; a solid tone, as on wood. */
  kind: {
    flag: "--kind <kind>",
    text: text.plainText,
    takes: oneOf(workKinds).default("photo"),
    help: "photo; strip: remove a coating; shade: a solid tone, as on wood",
  },
  /** Longest run time allowed. */
  minutes: {
    flag: "--minutes <n>",
    text: text.number,
    takes: above0(10000, "minutes").optional(),
    help: "longest run time allowed",
  },
  /** Tones that a detail must carry while the dose drifts. */
  tones: {
    flag: "--tones <n@detail>",
    text: text.tones,
    takes: tones.optional(),
    help: "photo: tones that a detail must hold: 12@0.25mm; details of 0.15, 0.25, 0.5 or 1 mm",
    work: "photo",
  },
  /** Without limits a photo gets the cheapest density after which doubling the time gains less than this share of held tones. */
  gain: {
    flag: "--gain <percent>",
    text: text.share,
    takes: between(0.01, 5).default(0.25),
    help: "photo without --tones: what another doubling of the time must add in held tones",
    work: "photo",
  },
  /** `strip`: measured width of a single line. Default: from the line's dose on a steep material, else the spot. */
  markMm: {
    flag: "--mark <length>",
    text: text.length,
    takes: above0(5, "mm").optional(),
    help: "strip: measured width of one line",
    otherwise: "from the line's dose on a steep material, else the spot",
    work: "strip",
  },
  /** `strip`: share by which neighbouring marks should overlap. */
  margin: {
    flag: "--margin <percent>",
    text: text.share,
    takes: between(0, 1).default(0.05),
    help: "strip: by how much neighbouring lines should overlap",
    work: "strip",
  },
  /** `shade`: wanted darkness (on a material that marks lighter, lightness), in L*. */
  darkness: {
    flag: "--darkness <percent>",
    text: text.share,
    takes: z.number(DARKNESS_WORDS).positive(DARKNESS_WORDS).max(1, DARKNESS_WORDS).default(0.75),
    help: "shade: how far from the bare surface to the darkest mark, in L*",
    work: "shade",
  },
  /** `strip` and `shade`: density to hold the choice against. Default: the highest offered, or 800. */
  against: {
    flag: "--against <lines>",
    text: text.density,
    takes: linesPerInch.optional(),
    help: "the density you run now, to see what the choice saves",
    otherwise: "for strip 800",
  },
});

/** What the machine offers. */
const offeredOptions = group("Machine and viewing", {
  /** Densities that the machine offers. Default: eight from half to five times matched. */
  densities: {
    flag: "--densities <list>",
    text: { read: (option, list) => [listOf(text.density).read(option, list)].flat() },
    takes: z.array(linesPerInch, DENSITIES_WORDS).min(1, DENSITIES_WORDS).optional(),
    help: "what the machine offers, a comma-separated list: 150,254,300,508",
    otherwise: "eight from half to five times the matched density",
  },
});

const measuredOptions = group("Spot, measured", {
  /** One measured spot, or several to compare. Default 0.1 mm, unless the optics are given. */
  spotMm: {
    flag: "--spot <sizes>",
    text: listOf(text.spot),
    takes: oneOrMore(spotMm, "a spot diameter in mm, or a list of them").optional(),
    help: "1/e² diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm; a comma-separated list is compared",
    otherwise: `${DEFAULT_SPOT_MM}mm`,
  },
});

/** The optics, for a spot that nobody has measured. */
const opticsOptions = group("Spot, computed from the optics", {
  wavelengthMm: {
    flag: "--wavelength <length>",
    text: text.wavelength,
    takes: z.number(WAVELENGTH_WORDS).min(0.0002, WAVELENGTH_WORDS).max(0.02, WAVELENGTH_WORDS).optional(),
    help: "of the beam: 10.6um, 450nm",
  },
  /** Several focal lengths are compared. */
  focalLengthMm: {
    flag: "--focal-length <lengths>",
    text: listOf(text.length),
    takes: oneOrMore(above0(5000, "mm"), "a focal length in mm, or a list of them").optional(),
    help: "of the lens: 2in, 50.8mm; a comma-separated list is compared",
  },
  beamDiameterMm: {
    flag: "--beam-diameter <length>",
    text: text.length,
    takes: above0(500, "mm").optional(),
    help: "1/e² diameter of the beam that enters the lens",
  },
  propagationRatio: {
    flag: "--m2 <ratio>",
    text: text.number,
    takes: between(1, 1000).default(1),
    help: "beam propagation ratio M²",
  },
  lensShape: {
    flag: "--lens <shape>",
    text: text.plainText,
    takes: oneOf(lensShapes).default("ideal"),
    help: "ideal, best-form, plano-convex (curved side to the beam) or plano-convex-reversed",
  },
  lensIndex: {
    flag: "--lens-index <n>",
    text: text.number,
    takes: between(1.01, 5).optional(),
    help: "refractive index",
    otherwise: "zinc selenide from 3um up, 1.5 below",
  },
  defocusMm: {
    flag: "--defocus <length>",
    text: text.length,
    takes: between(-100, 100, "mm").default(0),
    help: "how far the work lies from the focus",
  },
});

/** What bears on choosing a density. */
export const planOnlyOptions = { ...workOptions, ...offeredOptions, ...measuredOptions, ...opticsOptions };
