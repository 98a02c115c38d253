import { parseCrop, parseFocus } from "../options/parse-places.js";
import { parseLengthMm } from "../options/quantities.js";
import { asText, asYesOrNo } from "./flag-values.js";
import type { Flag } from "./flags.js";

const group = "Picture";

/** What may be done to the picture as a picture. */
export const pictureFlags: readonly Flag[] = [
  {
    usage: "--crop <rectangle>",
    group,
    option: "crop",
    parse: parseCrop,
    help: "left, top, width and height of the part to engrave: 10%,5%,80%,60%, or pixels as the photo is seen upright",
  },
  {
    usage: "--focus <point>",
    group,
    option: "focus",
    parse: parseFocus,
    help: "where --fit cover has to cut, keep this point of the photo as near the middle as can be: 40%,30%, or pixels",
  },
  {
    usage: "--mask <picture>",
    group,
    option: "mask",
    parse: asText,
    help: "a picture of the photo's shape: white keeps, black leaves bare, grey in between",
  },
  {
    usage: "--oval",
    group,
    option: "oval",
    parse: asYesOrNo,
    help: "the largest oval in the picture, bare outside",
  },
  {
    usage: "--vignette <length>",
    group,
    option: "vignetteMm",
    parse: parseLengthMm,
    help: "fade to the bare surface over this length along the edge, of the rectangle or oval",
  },
  {
    usage: "--border <width>",
    group,
    option: "borderMm",
    parse: parseLengthMm,
    help: "a solid line along the edge, of the rectangle or oval",
  },
  {
    usage: "--border-gap <length>",
    group,
    option: "borderGapMm",
    parse: parseLengthMm,
    help: "bare strip between border and picture (default: 0)",
  },
];
