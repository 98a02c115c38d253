import {
  parseLengthMm,
  parseNumber,
  parseSpot,
  parseSpread,
  parseTones,
  parseWavelengthMm,
} from "../options/quantities.js";
import { asText, linesPerInch } from "./flag-values.js";
import { type Flag, prepareFlags } from "./flags.js";

/** A list by commas; a single value stays single. */
const listed =
  <T>(parse: (flag: string, text: string) => T) =>
  (flag: string, text: string): T | T[] => {
    const values = text.split(",").map((part) => parse(flag, part.trim()));
    return values.length === 1 ? values[0] : values;
  };

/** Options of `prepare` that say nothing to a plan. */
const WITHOUT = ["linesPerInch", "linesPerInchAlong", "spotMm", "kind", "bitmapOnly", "format"];

const ownFlags: readonly Flag[] = [
  {
    usage: "--kind <kind>",
    group: "Work",
    option: "kind",
    parse: asText,
    help: "photo; strip: take a coating off; shade: a solid tone, as on wood (default: photo)",
  },
  {
    usage: "--minutes <n>",
    group: "Work",
    option: "minutes",
    parse: parseNumber,
    help: "longest run time allowed",
  },
  {
    usage: "--tones <n@detail>",
    group: "Work",
    option: "tones",
    parse: parseTones,
    help: "photo: tones that a detail must hold: 12@0.25mm; details of 0.15, 0.25, 0.5 or 1 mm",
  },
  {
    usage: "--gain <percent>",
    group: "Work",
    option: "gain",
    parse: parseSpread,
    help: "photo without --tones: what another doubling of the time must add in held tones (default: 25%)",
  },
  {
    usage: "--mark <length>",
    group: "Work",
    option: "markMm",
    parse: parseLengthMm,
    help: "strip: measured width of one line (default: from the line's dose on a steep material, else the spot)",
  },
  {
    usage: "--margin <percent>",
    group: "Work",
    option: "margin",
    parse: parseSpread,
    help: "strip: by how much neighbouring lines should overlap (default: 5%)",
  },
  {
    usage: "--darkness <percent>",
    group: "Work",
    option: "darkness",
    parse: parseSpread,
    help: "shade: how far from the bare surface to the darkest mark, in L* (default: 75%)",
  },
  {
    usage: "--against <lines>",
    group: "Work",
    option: "against",
    parse: linesPerInch,
    help: "the density you run now, to see what the choice saves (default for strip: 800)",
  },
  {
    usage: "--densities <list>",
    group: "Machine and viewing",
    option: "densities",
    parse: (flag, text) => [listed(linesPerInch)(flag, text)].flat(),
    help: "what the machine offers: 150,254,300,508 (default: eight from half to five times matched)",
  },
  {
    usage: "--spot <sizes>",
    group: "Spot, measured",
    option: "spotMm",
    parse: listed(parseSpot),
    help: "1/e² diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm; several by commas are compared (default: 0.1mm)",
  },
  {
    usage: "--wavelength <length>",
    group: "Spot, computed from the optics",
    option: "wavelengthMm",
    parse: parseWavelengthMm,
    help: "of the beam: 10.6um, 450nm",
  },
  {
    usage: "--focal-length <lengths>",
    group: "Spot, computed from the optics",
    option: "focalLengthMm",
    parse: listed(parseLengthMm),
    help: "of the lens: 2in, 50.8mm; several by commas are compared",
  },
  {
    usage: "--beam-diameter <length>",
    group: "Spot, computed from the optics",
    option: "beamDiameterMm",
    parse: parseLengthMm,
    help: "1/e² diameter of the beam that enters the lens",
  },
  {
    usage: "--m2 <ratio>",
    group: "Spot, computed from the optics",
    option: "propagationRatio",
    parse: parseNumber,
    help: "beam propagation ratio M² (default: 1)",
  },
  {
    usage: "--lens <shape>",
    group: "Spot, computed from the optics",
    option: "lensShape",
    parse: asText,
    help: "ideal, best-form, plano-convex (curved side to the beam) or plano-convex-reversed (default: ideal)",
  },
  {
    usage: "--lens-index <n>",
    group: "Spot, computed from the optics",
    option: "lensIndex",
    parse: parseNumber,
    help: "refractive index (default: zinc selenide from 3um up, 1.5 below)",
  },
  {
    usage: "--defocus <length>",
    group: "Spot, computed from the optics",
    option: "defocusMm",
    parse: parseLengthMm,
    help: "how far the work lies from the focus (default: 0)",
  },
];

/** The options of `plan`, in the order of its help. */
export const planFlags: readonly Flag[] = [
  ...ownFlags,
  ...prepareFlags.filter(({ option }) => !WITHOUT.includes(option)),
];
