import type { ReportAround, ReportPlaced } from "../report.js";

/** To a hundredth, without trailing zeros. */
const digits = (value: number): string => String(Number(value.toFixed(2)));
const tenths = (value: number): string => String(Number(value.toFixed(1)));

/** The machine's start, for a tile: `50.76°, 20 mm`. */
export const startInShort = ({ startAngleDeg, fromRim }: ReportPlaced): string =>
  [`${digits(startAngleDeg)}°`, ...(fromRim ? [`${digits(fromRim.bitmapMm)} mm`] : [])].join(", ");

/** Where the bitmap starts. */
export function startWords({ startAngleDeg, startAlongMm, fromRim }: ReportPlaced): string {
  const height = fromRim
    ? `start ${digits(fromRim.bitmapMm)} mm below the rim`
    : "start at the height that you choose";
  return `Rotate to ${digits(startAngleDeg)}° (${digits(startAlongMm)} mm) from your mark and ${height}: the upper left corner of the bitmap lies there`;
}

/** The mark, and the diameter for the rotary attachment. */
export function rotaryWords({ topDiameterMm, bottomDiameterMm, cone }: ReportAround): string {
  const diameter = `Set the rotary attachment to a diameter of ${digits((topDiameterMm + bottomDiameterMm) / 2)} mm`;
  return `Your mark is a seam, a handle or a line that you draw; angles count to the right with the rim up. ${diameter}${cone ? ", half-way down the bitmap" : ""}.`;
}

/** Where the picture comes to lie. */
export function placeWords({ angleDeg, fromRim, wall, pictureHeightMm }: ReportPlaced): string {
  const round =
    angleDeg === 0
      ? "The picture's middle lies on your mark"
      : `The picture's middle lies at ${digits(angleDeg)}°`;
  if (!fromRim) return `${round}.`;
  const middleMm = wall && (wall.lengthMm - pictureHeightMm) / 2;
  const halfWay =
    wall && middleMm === fromRim.pictureMm ? `, half-way down the wall of ${digits(wall.lengthMm)} mm` : "";
  return `${round}, its top ${digits(fromRim.pictureMm)} mm below the rim${halfWay}.`;
}

/** What the bend of a cone's bitmap means; undefined on a cylinder. */
export function bendWords({
  placed,
  cone,
  topDiameterMm,
  bottomDiameterMm,
}: ReportAround): string | undefined {
  if (!placed?.bend || !cone) return undefined;
  const { bowMm, taperMm } = placed.bend;
  const narrow = topDiameterMm > bottomDiameterMm ? "bottom" : "top";
  const off = `bow by ${tenths(bowMm)} mm and make the picture's ${narrow} ${tenths(taperMm)} mm narrower than its ${narrow === "top" ? "bottom" : "top"}`;
  return cone.layout === "flat"
    ? `The bitmap is bent because its rows are circles of the cone, and on the unrolled surface these are arcs. On the piece the picture is straight, like a flat label. A straight bitmap would ${off}.`
    : `The bitmap is straight, so its level lines run parallel to the rim. On the unrolled surface they ${off}.`;
}

/** Only on a cone whose wall is not known. */
export const diametersNote = ({ placed, cone }: ReportAround): string | undefined =>
  placed && cone && !placed.wall
    ? "The length of the wall is not given, so the two diameters count at the top and bottom of the picture, not at the rim and foot of the piece."
    : undefined;
