import {
  parseAround,
  parseLengthMm,
  parseMicroseconds,
  parseNumber,
  parsePercent,
  parseSpot,
  parseSpread,
} from "../options/quantities.js";
import { asText, asYesOrNo, linesPerInch } from "./flag-values.js";
import { pictureFlags } from "./picture-flags.js";

/** One option of the command line: how it is written, what it sets in the library, how its text is read, what help says. */
export interface Flag {
  /** As commander takes it, e.g. `--width <length>`; a switch without a value, `--mirror` or `--no-auto-tone`. */
  readonly usage: string;
  /** The library option that it sets. */
  readonly option: string;
  readonly parse: (flag: string, text: string) => unknown;
  readonly help: string;
  /** Heading of its part of the help. */
  readonly group: string;
}

/** The options of `prepare`, in the order of its help. */
export const prepareFlags: readonly Flag[] = [
  {
    usage: "--width <length>",
    group: "Size and grid",
    option: "widthMm",
    parse: parseLengthMm,
    help: "engraved width: 80, 80mm, 8cm, 3in",
  },
  {
    usage: "--height <length>",
    group: "Size and grid",
    option: "heightMm",
    parse: parseLengthMm,
    help: "engraved height; one of the two keeps the photo's shape (default: longer side 100mm)",
  },
  {
    usage: "--around <diameter>",
    group: "Size and grid",
    option: "aroundMm",
    parse: parseAround,
    help: "once round a cylinder: 60mm, in place of the width; 80..60mm for a cone, diameters at top and bottom, height along its slope",
  },
  {
    usage: "--cone <how>",
    group: "Size and grid",
    option: "coneLayout",
    parse: asText,
    help: "on a cone: flat (undistorted, as from a flat sheet rolled up) or level (along its circles, sides meet) (default: flat)",
  },
  {
    usage: "--fit <how>",
    group: "Size and grid",
    option: "fit",
    parse: asText,
    help: "with both sizes: cover (crop), contain (leave bare) or stretch (default: cover)",
  },
  ...pictureFlags,
  {
    usage: "--density <lines>",
    group: "Size and grid",
    option: "linesPerInch",
    parse: linesPerInch,
    help: "lines per inch across the scan lines: 254, 254lpi, 10/mm or 0.1mm (default: twice matched for a gradual material, 1.15 times for a steep one)",
  },
  {
    usage: "--density-along <lines>",
    group: "Size and grid",
    option: "linesPerInchAlong",
    parse: linesPerInch,
    help: "the same along the lines (default: as --density)",
  },
  {
    usage: "--spot <size>",
    group: "Size and grid",
    option: "spotMm",
    parse: parseSpot,
    help: "1/e² spot diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm (default: 0.1mm)",
  },
  {
    usage: "--material <name>",
    group: "Material and halftone",
    option: "material",
    parse: asText,
    help: "preset (see spotpitch materials) or material file, x.json (default: maple)",
  },
  {
    usage: "--kind <kind>",
    group: "Material and halftone",
    option: "kind",
    parse: asText,
    help: "photo: a tonal picture; solid: a logo or lettering, engraved without dots and as wide as drawn; auto takes plain ink on plain paper for solid, and says so (default: auto)",
  },
  {
    usage: "--method <name>",
    group: "Material and halftone",
    option: "method",
    parse: asText,
    help: "photo: halftone method (see spotpitch methods); auto tries three on a typical part of the photo and takes the least error (default: auto)",
  },
  {
    usage: "--levels <n>",
    group: "Material and halftone",
    option: "levels",
    parse: parseNumber,
    help: "power levels of a pixel, 2 (on and off) to 256, for a machine that sets its power from pixel to pixel (default: 2)",
  },
  {
    usage: "--scan <order>",
    group: "Material and halftone",
    option: "scan",
    parse: asText,
    help: "order in which error diffusion works: serpentine or raster (default: serpentine)",
  },
  {
    usage: "--screen-ruling <lines>",
    group: "Material and halftone",
    option: "screenLinesPerInch",
    parse: linesPerInch,
    help: "clustered-dot: rows of dots per inch (default: a period of 2 spots, steep 2.5)",
  },
  {
    usage: "--screen-angle <degrees>",
    group: "Material and halftone",
    option: "screenAngleDeg",
    parse: parseNumber,
    help: "clustered-dot: angle to the scan lines (default: 45)",
  },
  {
    usage: "--clumping <h>",
    group: "Material and halftone",
    option: "clumping",
    parse: parseNumber,
    help: "green-noise: how strongly dots clump, 0 to 2 (default: 1)",
  },
  {
    usage: "--tone-map <how>",
    group: "Tone",
    option: "toneMap",
    parse: asText,
    help: "lightness: even steps to the eye; luminance: the photo's light ratios (default: lightness)",
  },
  {
    usage: "--no-compensate",
    group: "Tone",
    option: "compensate",
    parse: asYesOrNo,
    help: "do not correct tone for spot and material",
  },
  {
    usage: "--no-auto-tone",
    group: "Tone",
    option: "autoTone",
    parse: asYesOrNo,
    help: "leave the photo's tones as they are, without automatic levels",
  },
  {
    usage: "--clip <percent>",
    group: "Tone",
    option: "clipPercent",
    parse: (flag, text) => 100 * parsePercent(flag, text),
    help: "most that automatic levels may clip at each end (default: 0.1%)",
  },
  {
    usage: "--brightness <amount>",
    group: "Tone",
    option: "brightness",
    parse: parseNumber,
    help: "added to L*, -100 to 100 (default: 0)",
  },
  {
    usage: "--contrast <amount>",
    group: "Tone",
    option: "contrast",
    parse: parseNumber,
    help: "-100 halves, 100 doubles (default: 0)",
  },
  {
    usage: "--gamma <value>",
    group: "Tone",
    option: "gamma",
    parse: parseNumber,
    help: "above 1 lightens mid-tones (default: 1)",
  },
  {
    usage: "--local-contrast <amount>",
    group: "Tone",
    option: "localContrast",
    parse: parseNumber,
    help: "contrast with the surroundings, 0 to 2 (default: 0)",
  },
  {
    usage: "--sharpen <amount>",
    group: "Tone",
    option: "sharpen",
    parse: parseNumber,
    help: "share of the spot's blur to make up for, 0 to 2 (default: 0)",
  },
  {
    usage: "--speed <mm/s>",
    group: "Machine and viewing",
    option: "speedMmPerS",
    parse: parseNumber,
    help: "scan speed, for run time and firing lag (default: 300)",
  },
  {
    usage: "--accel <mm/s²>",
    group: "Machine and viewing",
    option: "accelerationMmPerS2",
    parse: parseNumber,
    help: "acceleration (default: 5000)",
  },
  {
    usage: "--step-time <s>",
    group: "Machine and viewing",
    option: "stepTimeS",
    parse: parseNumber,
    help: "time per line step that the reversal does not hide (default: 0)",
  },
  {
    usage: "--firing-lag <time>",
    group: "Machine and viewing",
    option: "firingLagUs",
    parse: parseMicroseconds,
    help: "time constant of the source behind its command, in µs: 30, 30us, 0.03ms (default: 0)",
  },
  {
    usage: "--line-shift <length>",
    group: "Machine and viewing",
    option: "lineShiftMm",
    parse: parseLengthMm,
    help: "how far lines of the way back sit off (default: 0)",
  },
  {
    usage: "--one-way",
    group: "Machine and viewing",
    option: "oneWay",
    parse: asYesOrNo,
    help: "burn every line in the same direction",
  },
  {
    usage: "--dose-spread <percent>",
    group: "Machine and viewing",
    option: "doseSpread",
    parse: parseSpread,
    help: "how far the dose drifts on your machine (default: 10%)",
  },
  {
    usage: "--view-distance <length>",
    group: "Machine and viewing",
    option: "viewDistanceMm",
    parse: parseLengthMm,
    help: "from where the piece is looked at (default: 300mm)",
  },
  {
    usage: "--mirror",
    group: "Size and grid",
    option: "mirror",
    parse: asYesOrNo,
    help: "for work seen through the material from the other side",
  },
  {
    usage: "--negative",
    group: "Tone",
    option: "negative",
    parse: asYesOrNo,
    help: "swap light and dark: for a dark drawing on white that is to burn on slate",
  },
  {
    usage: "--bitmap-only",
    group: "Output",
    option: "bitmapOnly",
    parse: asYesOrNo,
    help: "bitmap and report only, no prediction and no preview: for speed",
  },
  {
    usage: "--format <type>",
    group: "Output",
    option: "format",
    parse: asText,
    help: "bitmap file: png, tiff or bmp (default: png)",
  },
  {
    usage: "--seed <n>",
    group: "Material and halftone",
    option: "seed",
    parse: parseNumber,
    help: "for methods that use chance (default: 1)",
  },
];

/** `--density-along <lines>` → `density-along`: the name in a config file. */
export const flagName = (flag: Flag): string => flag.usage.slice(2).split(" ")[0];

export const isSwitch = (flag: Flag): boolean => !flag.usage.includes("<");

/** The switch that takes another back: `no-mirror` for `mirror`, `auto-tone` for `no-auto-tone`. */
export const oppositeName = (flag: Flag): string =>
  isNegative(flagName(flag)) ? flagName(flag).slice(3) : `no-${flagName(flag)}`;

/** True for the name of a switch that sets its option to false. */
export const isNegative = (name: string): boolean => name.startsWith("no-");
