import * as z from "zod";

const CROP_WORDS =
  "left, top, width and height of the part to keep, all in percent of the photo or all in its pixels, width and height above 0";
const FOCUS_WORDS = "a point of the photo, both in percent of it or both in its pixels";
const MASK_WORDS = "a picture file's bytes, or { bytes, fileName }";
const LENGTH_WORDS = "more than 0 and at most 500 mm";
const GAP_WORDS = "0 to 500 mm";

const place = (words: string) => z.number(words);
const extent = (words: string) => z.number(words).positive(words);
const fileBytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, MASK_WORDS);
const lengthMm = z.number(LENGTH_WORDS).positive(LENGTH_WORDS).max(500, LENGTH_WORDS).optional();

/** What may be done to the picture as a picture, before its tones: all optional, all off unless asked for. */
export const pictureFields = {
  /**
   * The part of the photo to engrave, as it is seen upright; rounded to whole pixels of the photo. Places outside the photo are
   * refused once its size is known.
   */
  crop: z
    .union(
      [
        z.strictObject({
          leftPercent: place(CROP_WORDS),
          topPercent: place(CROP_WORDS),
          widthPercent: extent(CROP_WORDS),
          heightPercent: extent(CROP_WORDS),
        }),
        z.strictObject({
          leftPx: place(CROP_WORDS),
          topPx: place(CROP_WORDS),
          widthPx: extent(CROP_WORDS),
          heightPx: extent(CROP_WORDS),
        }),
      ],
      CROP_WORDS,
    )
    .optional(),
  /** Where `fit: "cover"` has to cut, the point of the whole photo to keep as near the middle as can be. Default: the middle. */
  focus: z
    .union(
      [
        z.strictObject({ xPercent: place(FOCUS_WORDS), yPercent: place(FOCUS_WORDS) }),
        z.strictObject({ xPx: place(FOCUS_WORDS), yPx: place(FOCUS_WORDS) }),
      ],
      FOCUS_WORDS,
    )
    .optional(),
  /** A picture of the photo's own shape: white keeps, black leaves bare, grey keeps its share, like an alpha channel. */
  mask: z
    .union([fileBytes, z.strictObject({ bytes: fileBytes, fileName: z.string() }, MASK_WORDS)], MASK_WORDS)
    .optional(),
  /** The largest oval in the picture's place, instead of the whole rectangle. */
  oval: z.boolean("true or false").default(false),
  /** Fade to the bare surface, evenly in lightness, over this length inside the edge of the rectangle or oval. */
  vignetteMm: lengthMm,
  /** A solid line of this width along the inside of the edge. */
  borderMm: lengthMm,
  /** Bare strip between border and picture. */
  borderGapMm: z.number(GAP_WORDS).min(0, GAP_WORDS).max(500, GAP_WORDS).default(0),
} as const;
