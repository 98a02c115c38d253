import { parseLengthMm, parseNumber, parsePercent, parsePitchMm, parseSpot } from "../core/quantities.js";
import { linesPerInchFromPitchMm } from "../core/units.js";

/** One option of the command line: how it is written, what it sets in the library, how its text is read, what help says. */
export interface Flag {
  /** As commander takes it, e.g. `--width <length>`. */
  readonly usage: string;
  /** The library option that it sets. */
  readonly option: string;
  readonly parse: (flag: string, text: string) => unknown;
  readonly help: string;
}

const linesPerInch = (flag: string, text: string): number =>
  linesPerInchFromPitchMm(parsePitchMm(flag, text));
const asText = (_flag: string, text: string): string => text;
const setTo = (value: boolean) => (): boolean => value;

/** The options of `prepare`, in the order of its help. */
export const prepareFlags: readonly Flag[] = [
  {
    usage: "--width <length>",
    option: "widthMm",
    parse: parseLengthMm,
    help: "engraved width: 80, 80mm, 8cm, 3in",
  },
  {
    usage: "--height <length>",
    option: "heightMm",
    parse: parseLengthMm,
    help: "engraved height; one of the two keeps the photo's shape (default: longer side 100mm)",
  },
  {
    usage: "--fit <how>",
    option: "fit",
    parse: asText,
    help: "with both sizes: cover (crop), contain (leave bare) or stretch (default: cover)",
  },
  {
    usage: "--density <lines>",
    option: "linesPerInch",
    parse: linesPerInch,
    help: "lines per inch across the scan lines: 254, 10/mm or 0.1mm (default: twice matched for a gradual material, 1.15 times for a steep one)",
  },
  {
    usage: "--density-along <lines>",
    option: "linesPerInchAlong",
    parse: linesPerInch,
    help: "the same along the lines (default: as --density)",
  },
  {
    usage: "--spot <size>",
    option: "spotMm",
    parse: parseSpot,
    help: "1/e² spot diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm (default: 0.1mm)",
  },
  {
    usage: "--material <name>",
    option: "material",
    parse: asText,
    help: "preset (see spotpitch materials) or material file, x.json (default: maple)",
  },
  { usage: "--kind <kind>", option: "kind", parse: asText, help: "photo: a tonal picture (default: photo)" },
  {
    usage: "--method <name>",
    option: "method",
    parse: asText,
    help: "halftone method (see spotpitch methods) or auto: least expected visual error (default: auto)",
  },
  {
    usage: "--levels <n>",
    option: "levels",
    parse: parseNumber,
    help: "power levels; 2 is on and off (default: 2)",
  },
  {
    usage: "--scan <order>",
    option: "scan",
    parse: asText,
    help: "order in which error diffusion works: serpentine or raster (default: serpentine)",
  },
  {
    usage: "--screen-ruling <lines>",
    option: "screenLinesPerInch",
    parse: linesPerInch,
    help: "clustered-dot: rows of dots per inch (default: a period of 2.5 spots)",
  },
  {
    usage: "--screen-angle <degrees>",
    option: "screenAngleDeg",
    parse: parseNumber,
    help: "clustered-dot: angle to the scan lines (default: 45)",
  },
  {
    usage: "--clumping <h>",
    option: "clumping",
    parse: parseNumber,
    help: "green-noise: how strongly dots clump, 0 to 2 (default: 1)",
  },
  {
    usage: "--tone-map <how>",
    option: "toneMap",
    parse: asText,
    help: "lightness: even steps to the eye; luminance: the photo's light ratios (default: lightness)",
  },
  {
    usage: "--no-compensate",
    option: "compensate",
    parse: setTo(false),
    help: "do not correct tone for spot and material",
  },
  {
    usage: "--no-auto-tone",
    option: "autoTone",
    parse: setTo(false),
    help: "leave the photo's tones as they are, without automatic levels",
  },
  {
    usage: "--clip <percent>",
    option: "clipPercent",
    parse: (flag, text) => 100 * parsePercent(flag, text),
    help: "most that automatic levels may clip at each end (default: 0.1%)",
  },
  {
    usage: "--brightness <amount>",
    option: "brightness",
    parse: parseNumber,
    help: "added to L*, -100 to 100 (default: 0)",
  },
  {
    usage: "--contrast <amount>",
    option: "contrast",
    parse: parseNumber,
    help: "-100 halves, 100 doubles (default: 0)",
  },
  {
    usage: "--gamma <value>",
    option: "gamma",
    parse: parseNumber,
    help: "above 1 lightens mid-tones (default: 1)",
  },
  {
    usage: "--local-contrast <amount>",
    option: "localContrast",
    parse: parseNumber,
    help: "contrast with the surroundings, 0 to 2 (default: 0)",
  },
  {
    usage: "--sharpen <amount>",
    option: "sharpen",
    parse: parseNumber,
    help: "share of the spot's blur to make up for, 0 to 2 (default: 0)",
  },
  {
    usage: "--speed <mm/s>",
    option: "speedMmPerS",
    parse: parseNumber,
    help: "scan speed, for run time and firing lag (default: 300)",
  },
  {
    usage: "--accel <mm/s²>",
    option: "accelerationMmPerS2",
    parse: parseNumber,
    help: "acceleration (default: 5000)",
  },
  {
    usage: "--step-time <s>",
    option: "stepTimeS",
    parse: parseNumber,
    help: "time per line step that the reversal does not hide (default: 0)",
  },
  {
    usage: "--firing-lag <µs>",
    option: "firingLagUs",
    parse: parseNumber,
    help: "time constant of the source behind its command (default: 0)",
  },
  {
    usage: "--line-shift <length>",
    option: "lineShiftMm",
    parse: parseLengthMm,
    help: "how far lines of the way back sit off (default: 0)",
  },
  { usage: "--one-way", option: "oneWay", parse: setTo(true), help: "burn every line in the same direction" },
  {
    usage: "--dose-spread <percent>",
    option: "doseSpread",
    parse: parsePercent,
    help: "how far the dose wanders on your machine (default: 10%)",
  },
  {
    usage: "--view-distance <length>",
    option: "viewDistanceMm",
    parse: parseLengthMm,
    help: "from where the piece is looked at (default: 300mm)",
  },
  {
    usage: "--mirror",
    option: "mirror",
    parse: setTo(true),
    help: "for work seen through the material from the other side",
  },
  {
    usage: "--bitmap-only",
    option: "bitmapOnly",
    parse: setTo(true),
    help: "bitmap and report only, no prediction and no preview: for speed",
  },
  {
    usage: "--format <type>",
    option: "format",
    parse: asText,
    help: "bitmap file: png, tiff or bmp (default: png)",
  },
  {
    usage: "--seed <n>",
    option: "seed",
    parse: parseNumber,
    help: "for methods that use chance (default: 1)",
  },
];

/** `--density-along <lines>` → `density-along`: the name in a config file. */
export const flagName = (flag: Flag): string => flag.usage.slice(2).split(" ")[0];
