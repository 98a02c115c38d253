import * as z from "zod";
import { MAX_LEVELS } from "../../core/power-levels.js";
import { group } from "../group.js";
import { angle, density, number, word } from "../kinds.js";
import { between, oneOf, whole } from "../takes.js";

/**
 * Period of a clustered-dot screen in spot diameters. At 2 a detail of 0.25 mm holds as many tones as with scattered dots, at
 * 2.5 a third fewer. But a steep material needs the larger dots: a varying dose changes them less. Materials between the two take a
 * period between.
 */
export const SCREEN_PERIOD_SPOTS = { gradual: 2, steep: 2.5 } as const;

/** A plan does not search. */
const SEARCHING = ["prepare", "compare", "batch"] as const;

const BITMAP_WORDS = "the bytes of a bitmap file, or an object of bytes and fileName";
const bitmapBytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, BITMAP_WORDS);
const startBitmap = z.union(
  [bitmapBytes, z.strictObject({ bytes: bitmapBytes, fileName: z.string() }, BITMAP_WORDS)],
  BITMAP_WORDS,
);

/** How tones become dots. */
export const halftoneOptions = group("Material and halftone", {
  /**
   * A halftone method's name, or `auto`. `auto` tries a few methods on a picture with the photo's tones, 256 × 256 pixels at most,
   * and takes the finest texture whose expected visual error is within 0.3 L* of the smallest.
   */
  method: word(
    "--method <name>",
    z.string("a halftone method's name, or auto").default("auto"),
    "photo: halftone method (see spotpitch methods); auto tries four on the photo's tones and takes the finest texture whose expected error is within 0.3 L* of the smallest",
    {
      compared: {
        place: 6,
        help: "halftone methods in a comma-separated list, auto or all",
        otherwise: "one of each character",
      },
    },
  ),
  /** What `burn-search` lowers. Default: `robust` on a steep material, `nominal` on a gradual one. */
  aim: word(
    "--aim <aim>",
    oneOf(["nominal", "robust"]).optional(),
    "burn-search: the error to lower: nominal, at the settings, or robust, on a machine that varies",
    {
      needs: "search",
      otherwise: "robust on a steep material, nominal on a gradual one",
      commands: SEARCHING,
    },
  ),
  searchSeconds: number(
    "--seconds <n>",
    between(1, 86400, "seconds").optional(),
    "burn-search: stop after this time, at the last whole pass; without it two runs make the same bytes",
    { needs: "search", otherwise: "no limit", commands: SEARCHING },
  ),
  /** A bitmap of this piece, from which a search goes on. Default: a halftone that suits the aim. */
  startBitmap: word(
    "--start-bitmap <file>",
    startBitmap.optional(),
    "burn-search: go on from this bitmap of the piece, as an earlier search wrote it",
    { needs: "search", otherwise: "a halftone that suits the aim", commands: SEARCHING },
  ),
  levels: number(
    "--levels <n>",
    whole(2, MAX_LEVELS, " (on and off)").default(2),
    "power levels of a pixel, 2 (on and off) to 256, for a machine that sets its power from pixel to pixel",
    { tonal: true, compared: { place: 4 } },
  ),
  scan: word(
    "--scan <order>",
    oneOf(["serpentine", "raster"]).default("serpentine"),
    "order in which error diffusion works: serpentine or raster",
    { needs: "scan" },
  ),
  screenLinesPerInch: density(
    "--screen-ruling <lines>",
    between(5, 2000, "lines per inch").optional(),
    "clustered-dot: rows of dots per inch",
    {
      needs: "screen",
      otherwise: `a period of ${SCREEN_PERIOD_SPOTS.gradual} spots on a gradual material, ${SCREEN_PERIOD_SPOTS.steep} on a steep one, in between near the border`,
    },
  ),
  screenAngleDeg: angle(
    "--screen-angle <degrees>",
    between(-90, 90, "degrees").default(45),
    "clustered-dot: angle to the scan lines",
    { needs: "screen" },
  ),
  /** Output feedback of green noise. */
  clumping: number(
    "--clumping <h>",
    between(0, 2).default(1),
    "green-noise: how strongly dots clump, 0 to 2",
    { needs: "clumping" },
  ),
  seed: number("--seed <n>", whole(0, 0xffffffff).default(1), "for methods that use chance", {
    needs: "seed",
  }),
});
