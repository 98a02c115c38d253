import * as z from "zod";
import { group } from "../option.js";
import { above0, between, strict, trueOrFalse } from "../takes.js";
import * as text from "../text-forms.js";

const CROP_WORDS =
  "left, top, width and height of the part to keep, all in percent of the photo or all in its pixels, width and height above 0";
const FOCUS_WORDS = "a point of the photo, both in percent of it or both in its pixels";
const MASK_WORDS = "a picture file's bytes, or { bytes, fileName }";

const cropPlace = z.number(CROP_WORDS);
const cropExtent = z.number(CROP_WORDS).positive(CROP_WORDS);
const crop = z.union(
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
const focus = z.union(
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
const lengthMm = above0(500, "mm");

/** What may be done to the picture as a picture, before its tones: all optional, all off unless asked for. */
export const pictureOptions = group("Picture", {
  /**
   * The part of the photo to engrave, as it is seen upright; rounded to whole pixels of the photo. Places outside the photo are
   * refused once its size is known.
   */
  crop: {
    flag: "--crop <rectangle>",
    text: text.crop,
    takes: crop.optional(),
    help: "left, top, width and height of the part to engrave: 10%,5%,80%,60%, or pixels as the photo is seen upright",
  },
  /** Where `fit: "cover"` has to cut, the point of the whole photo to keep as near the middle as can be. Default: the middle. */
  focus: {
    flag: "--focus <point>",
    text: text.focus,
    takes: focus.optional(),
    help: "where --fit cover has to cut, keep this point of the photo as near the middle as possible: 40%,30%, or pixels",
  },
  /** A picture of the photo's own shape: white keeps, black leaves bare, grey keeps its share, like an alpha channel. */
  mask: {
    flag: "--mask <picture>",
    text: text.plainText,
    takes: mask.optional(),
    help: "a picture of the photo's shape: white keeps, black leaves bare, grey in between",
  },
  /** The largest oval in the picture's place, instead of the whole rectangle. */
  oval: {
    flag: "--oval",
    text: text.yesOrNo,
    takes: trueOrFalse.default(false),
    help: "the largest oval in the picture, bare outside",
  },
  /** Fade to the bare surface, evenly in lightness, over this length inside the edge of the rectangle or oval. */
  vignetteMm: {
    flag: "--vignette <length>",
    text: text.length,
    takes: lengthMm.optional(),
    help: "fade to the bare surface over this length along the edge, of the rectangle or oval",
  },
  /** A solid line of this width along the inside of the edge. */
  borderMm: {
    flag: "--border <width>",
    text: text.length,
    takes: lengthMm.optional(),
    help: "a solid line along the edge, of the rectangle or oval",
  },
  /** Bare strip between border and picture. */
  borderGapMm: {
    flag: "--border-gap <length>",
    text: text.length,
    takes: between(0, 500, "mm").default(0),
    help: "bare strip between border and picture",
  },
});
