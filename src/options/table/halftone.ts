import * as z from "zod";
import { MOST_LEVELS } from "../../core/power-levels.js";
import { group } from "../option.js";
import { between, oneOf, whole } from "../takes.js";
import * as text from "../text-forms.js";

/** How tones become dots. */
export const halftoneOptions = group("Material and halftone", {
  /**
   * A halftone method's name, or `auto`: a few methods are tried on a typical part of the photo, 256 × 256 pixels at most, and
   * the smallest expected visual error decides; within 3 % the simplest stays.
   */
  method: {
    flag: "--method <name>",
    text: text.plainText,
    takes: z.string("a halftone method's name, or auto").default("auto"),
    help: "photo: halftone method (see spotpitch methods); auto tries three on a typical part of the photo and takes the one with the smallest error",
    compared: {
      place: 6,
      words: "halftone methods, auto or all",
      help: "halftone methods in a comma-separated list, auto or all",
      otherwise: "one of each character",
    },
  },
  /** Power levels of a pixel: 2 is on and off, more need a machine that sets its power from pixel to pixel. */
  levels: {
    flag: "--levels <n>",
    text: text.number,
    takes: whole(2, MOST_LEVELS, " (on and off)").default(2),
    help: "power levels of a pixel, 2 (on and off) to 256, for a machine that sets its power from pixel to pixel",
    compared: { place: 4, words: "whole numbers from 2 (on and off) to 256" },
  },
  scan: {
    flag: "--scan <order>",
    text: text.plainText,
    takes: oneOf(["serpentine", "raster"]).default("serpentine"),
    help: "order in which error diffusion works: serpentine or raster",
  },
  /** Clustered-dot screens: lines of dots per inch (default: a period of 2 spots, on a steep material 2.5) and angle in degrees. */
  screenLinesPerInch: {
    flag: "--screen-ruling <lines>",
    text: text.density,
    takes: between(5, 2000, "lines per inch").optional(),
    help: "clustered-dot: rows of dots per inch",
    otherwise: "a period of 2 spots, on a steep material 2.5",
  },
  screenAngleDeg: {
    flag: "--screen-angle <degrees>",
    text: text.number,
    takes: between(-90, 90, "degrees").default(45),
    help: "clustered-dot: angle to the scan lines",
  },
  /** Output feedback of green noise. */
  clumping: {
    flag: "--clumping <h>",
    text: text.number,
    takes: between(0, 2).default(1),
    help: "green-noise: how strongly dots clump, 0 to 2",
  },
  seed: {
    flag: "--seed <n>",
    text: text.number,
    takes: whole(0, 0xffffffff).default(1),
    help: "for methods that use chance",
  },
});
