import * as z from "zod";
import { group } from "../group.js";
import { crop, focus, length, toggle, word } from "../kinds.js";
import { above0, between, strict } from "../takes.js";

const CROP_WORDS =
  "left, top, width and height of the part to keep, all in percent of the photo or all in its pixels, width and height above 0";
const FOCUS_WORDS = "a point of the photo, both in percent of it or both in its pixels";
const MASK_WORDS = "a picture file's bytes, or { bytes, fileName }";

const cropPlace = z.number(CROP_WORDS);
const cropExtent = z.number(CROP_WORDS).positive(CROP_WORDS);
const part = z.union(
  [
    z.strictObject({
      leftPercent: cropPlace,
      topPercent: cropPlace,
      widthPercent: cropExtent,
      heightPercent: cropExtent,
    }),
    z.strictObject({ leftPx: cropPlace, topPx: cropPlace, widthPx: cropExtent, heightPx: cropExtent }),
  ],
  CROP_WORDS,
);
const focusPlace = z.number(FOCUS_WORDS);
const point = z.union(
  [
    strict(["xPercent", "yPercent"], focusPlace, FOCUS_WORDS),
    strict(["xPx", "yPx"], focusPlace, FOCUS_WORDS),
  ],
  FOCUS_WORDS,
);
const fileBytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, MASK_WORDS);
const mask = z.union(
  [fileBytes, z.strictObject({ bytes: fileBytes, fileName: z.string() }, MASK_WORDS)],
  MASK_WORDS,
);
const MAX_TEXT = 200;
const TEXT_WORDS = `a text of 1 to ${MAX_TEXT} characters`;
const lengthMm = above0(500, "mm");

/** The part and the shape of the picture. All are optional and off by default. */
export const pictureOptions = group("Picture", {
  /**
   * The part of the upright photo to engrave, rounded to whole pixels of the photo. Places outside the photo are refused when its
   * size is known.
   */
  crop: crop(
    "--crop <rectangle>",
    part.optional(),
    "left, top, width and height of the part to engrave: 10%,5%,80%,60%, or pixels as the photo is seen upright",
  ),
  /** The point of the whole photo that `fit: "cover"` keeps as near to the middle as possible. Default: the middle. */
  focus: focus(
    "--focus <point>",
    point.optional(),
    "where --fit cover has to cut, keep this point of the photo as near the middle as possible: 40%,30%, or pixels",
    { needs: "cut-to-fit" },
  ),
  /** A picture of the photo's shape: white keeps, black leaves bare, grey keeps its share, like an alpha channel. */
  mask: word(
    "--mask <picture>",
    mask.optional(),
    "a picture of the photo's shape: white keeps, black leaves bare, grey in between",
  ),
  oval: toggle("--oval", false, "the largest oval in the picture, bare outside"),
  /** Fade to the bare surface, evenly in lightness, over this length inside the edge of the rectangle or oval. */
  vignetteMm: length(
    "--vignette <length>",
    lengthMm.optional(),
    "fade to the bare surface over this length along the edge, of the rectangle or oval",
    { tonal: true },
  ),
  /** A solid line of this width along the inside of the edge. */
  borderMm: length(
    "--border <width>",
    lengthMm.optional(),
    "a solid line along the edge, of the rectangle or oval",
  ),
  borderGapMm: length(
    "--border-gap <length>",
    between(0, 500, "mm").default(0),
    "bare strip between border and picture",
  ),
  /** A text below the picture, in the middle, as solid letters. The piece becomes higher by it. */
  text: word(
    "--text <words>",
    z.string(TEXT_WORDS).trim().min(1, TEXT_WORDS).max(MAX_TEXT, TEXT_WORDS).optional(),
    "a text below the picture, such as a name or a serial number; the piece becomes higher by it",
    { commands: ["prepare", "batch"] },
  ),
  textHeightMm: length(
    "--text-height <length>",
    between(1, 50, "mm").default(3),
    "height of the text's capital letters",
    { commands: ["prepare", "batch"] },
  ),
});
