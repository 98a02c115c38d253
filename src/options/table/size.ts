import { coneLayouts } from "../../core/wrap.js";
import { group } from "../option.js";
import { above0, linesPerInch, oneOf, oneOrTwo, trueOrFalse } from "../takes.js";
import * as text from "../text-forms.js";

const sizeMm = above0(3000, "mm");
/** A circumference of 3000 mm, as the other sizes. */
const aroundMm = oneOrTwo(
  ["topMm", "bottomMm"],
  [1, 950],
  "a diameter of 1 to 950 mm, or two for a cone, top and bottom",
);
export const spotMm = oneOrTwo(
  ["alongMm", "acrossMm"],
  [0.005, 5],
  "0.005 to 5 mm: one diameter, or one along and one across",
);
export const DEFAULT_SPOT_MM = 0.1;

/** How large the piece is, and the grid that it is laid on. */
export const sizeOptions = group("Size and grid", {
  /** Engraved size. One alone keeps the photo's aspect ratio; neither makes the longer side 100 mm. */
  widthMm: {
    flag: "--width <length>",
    text: text.length,
    takes: sizeMm.optional(),
    help: "engraved width: 80, 80mm, 8cm, 3in",
  },
  heightMm: {
    flag: "--height <length>",
    text: text.length,
    takes: sizeMm.optional(),
    help: "engraved height; width or height alone keeps the photo's shape",
    otherwise: "longer side 100mm",
  },
  /** A round piece, engraved all the way round: its diameter, or those of a cone. Takes the place of the width. */
  aroundMm: {
    flag: "--around <diameter>",
    text: text.around,
    takes: aroundMm.optional(),
    help: "once round a cylinder: 60mm, in place of the width; 80..60mm for a cone, diameters at top and bottom, height along its slope",
  },
  /** On a cone: undistorted as on a flat sheet that is rolled up, or along its circles with sides that meet. */
  coneLayout: {
    flag: "--cone <how>",
    text: text.plainText,
    takes: oneOf(coneLayouts).default("flat"),
    help: "on a cone: flat (undistorted, as from a flat sheet rolled up) or level (along its circles, sides meet)",
  },
  /** With both sizes given: fill and crop, fit inside, or distort. */
  fit: {
    flag: "--fit <how>",
    text: text.plainText,
    takes: oneOf(["cover", "contain", "stretch"]).default("cover"),
    help: "with both sizes: cover (crop), contain (leave bare) or stretch",
  },
  /** Scan lines per inch, across the lines. Default: twice the matched density for a gradual material, 1.15 times for a steep one. */
  linesPerInch: {
    flag: "--density <lines>",
    text: text.density,
    takes: linesPerInch.optional(),
    help: "lines per inch across the scan lines: 254, 254lpi, 10/mm or 0.1mm",
    otherwise: "twice the matched density for a gradual material, 1.15 times for a steep one",
    commands: ["prepare", "batch", "compare"],
    compared: { place: 3, words: "densities of 20 to 5080 lines per inch" },
  },
  /** Pixels per inch along the lines. Default: as across. */
  linesPerInchAlong: {
    flag: "--density-along <lines>",
    text: text.density,
    takes: linesPerInch.optional(),
    help: "the same along the lines",
    otherwise: "as --density",
    commands: ["prepare", "batch", "compare"],
  },
  /** 1/e² diameter; elliptical spots along and across. */
  spotMm: {
    flag: "--spot <size>",
    text: text.spot,
    takes: spotMm.default(DEFAULT_SPOT_MM),
    help: "1/e² spot diameter: 0.115mm, 0.08x0.15mm (along x across), 0.07mm fwhm",
    commands: ["prepare", "batch", "compare"],
    compared: { place: 2, words: "spot diameters of 0.005 to 5 mm" },
  },
  mirror: {
    flag: "--mirror",
    text: text.yesOrNo,
    takes: trueOrFalse.default(false),
    help: "for work seen through the material from the other side",
  },
});
