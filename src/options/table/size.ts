import * as z from "zod";
import { coneLayouts } from "../../core/wrap.js";
import { group } from "../group.js";
import { around, density, length, placeOnRound, size, spot, toggle, word } from "../kinds.js";
import { above0, linesPerInch, oneOf, oneOrTwo } from "../takes.js";

const sizeMm = above0(3000, "mm");
/** The limit is a circumference of 3000 mm, as for the other sizes. */
const aroundMm = oneOrTwo(
  ["topMm", "bottomMm"],
  [1, 950],
  "a diameter of 1 to 950 mm, or two for a cone, top and bottom",
);
export const MAX_SPOT_MM = 5;
const PLACE_WORDS = "0 to 3000 mm from the rim and an angle of -360 to 360 degrees, or one of them";
const place = z.strictObject(
  {
    fromRimMm: z.number(PLACE_WORDS).min(0, PLACE_WORDS).max(3000, PLACE_WORDS).optional(),
    angleDeg: z.number(PLACE_WORDS).min(-360, PLACE_WORDS).max(360, PLACE_WORDS).optional(),
  },
  PLACE_WORDS,
);
export const spotMm = oneOrTwo(
  ["alongMm", "acrossMm"],
  [0.005, MAX_SPOT_MM],
  "0.005 to 5 mm: one diameter, or one along and one across",
);
/** Longer side of a piece without a given size. */
export const DEFAULT_LONGER_SIDE_MM = 100;
export const DEFAULT_SPOT_MM = 0.1;

/** Size of the piece and its grid. */
export const sizeOptions = group("Size and grid", {
  /** Engraved size. One alone keeps the photo's aspect ratio; neither makes the longer side 100 mm. */
  widthMm: size("--width <length>", sizeMm.optional(), "engraved width: 80, 80mm, 8cm, 3in"),
  heightMm: size(
    "--height <length>",
    sizeMm.optional(),
    "engraved height; width or height alone keeps the photo's shape",
    { otherwise: `longer side ${DEFAULT_LONGER_SIDE_MM}mm` },
  ),
  /**
   * A round piece: its diameter, or two for a cone. Without a width and a place it is engraved all the way round; then the two
   * diameters are those at the top and the bottom of the picture. With `wallMm` they are those at the rim and the foot.
   */
  aroundMm: around(
    "--around <diameter>",
    aroundMm.optional(),
    "a round piece: 60mm, or 80..60mm for a cone, at the top and bottom of the picture, height along its slope; all the way round without --width",
  ),
  /** A picture on a part of a round piece: from the rim to its top, and from the user's mark to its middle. */
  place: placeOnRound(
    "--place <place>",
    place.optional(),
    "on a round piece: from the rim to the picture's top and from your mark (seam, handle) to its middle, to the right with the rim up: 20mm,90deg",
    { otherwise: "the middle of --wall, 0deg" },
  ),
  /** The length of a round piece's wall from rim to foot, on a cone along its slope. */
  wallMm: length(
    "--wall <length>",
    sizeMm.optional(),
    "from rim to foot of a round piece, along its slope; the diameters of --around are then those of rim and foot",
  ),
  /** On a cone: undistorted, as on a flat sheet that is rolled up, or along its circles with sides that meet. */
  coneLayout: word(
    "--cone <how>",
    oneOf(coneLayouts).default("flat"),
    "on a cone: flat (undistorted, as from a flat sheet rolled up) or level (along its circles, sides meet)",
    { needs: "cone" },
  ),
  fit: word(
    "--fit <how>",
    oneOf(["cover", "contain", "stretch"]).default("cover"),
    "with both sizes: cover (crop), contain (leave bare) or stretch",
    { needs: "both-sizes" },
  ),
  linesPerInch: density(
    "--density <lines>",
    linesPerInch.optional(),
    "lines per inch across the scan lines: 254, 254lpi, 10/mm or 0.1mm",
    {
      otherwise:
        "what plan finds worth its time for this spot and kind of material: about 1.3 to 2.3 times the matched density for a spot of 0.1 mm, up to three times for a larger one",
      commands: ["prepare", "batch", "compare"],
      compared: { place: 3 },
    },
  ),
  /** Pixels per inch along the lines. Default: the same as across. */
  linesPerInchAlong: density("--density-along <lines>", linesPerInch.optional(), "the same along the lines", {
    otherwise: "as --density",
    commands: ["prepare", "batch", "compare"],
  }),
  spotMm: spot(
    "--spot <size>",
    spotMm.default(DEFAULT_SPOT_MM),
    "1/e² spot diameter: 0.115mm, 115um, 0.08x0.15mm (along x across), 0.07mm fwhm",
    {
      assumed: true,
      commands: ["prepare", "batch", "compare"],
      compared: { place: 2 },
    },
  ),
  mirror: toggle("--mirror", false, "for work seen through the material from the other side"),
});
