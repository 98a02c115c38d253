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
  return `Rotate to ${digits(startAngleDeg)}° (${digits(startAlongMm)} mm) from your mark and ${height}: the upper left corner of the bitmap lies there.`;
}

/** What the mark is. At an angle of 0 the picture goes onto it. */
const markWords = (angleDeg: number): string =>
  angleDeg === 0
    ? "Your mark is where the middle of the picture will lie: draw a line there. If the piece has a handle or a seam, take that as your mark, and give 180deg as the place to put the picture on the other side"
    : "Your mark is a seam, a handle or a line that you draw";

/** The mark, and the diameter for the rotary attachment. */
export function rotaryWords({ topDiameterMm, bottomDiameterMm, cone, placed }: ReportAround): string {
  const diameter = `Set the rotary attachment to a diameter of ${digits((topDiameterMm + bottomDiameterMm) / 2)} mm`;
  return `${markWords(placed?.angleDeg ?? 0)}. Angles count to the right with the rim up. ${diameter}${cone ? ", half-way down the bitmap; measure down the slope" : ""}.`;
}

/** Where the picture comes to lie. */
export function placeWords({ angleDeg, fromRim, wall, pictureHeightMm }: ReportPlaced): string {
  const round =
    angleDeg === 0
      ? "The middle of the picture lies on your mark"
      : `The picture's middle lies at ${digits(angleDeg)}°`;
  if (!fromRim) return `${round}.`;
  const middleMm = wall && (wall.lengthMm - pictureHeightMm) / 2;
  const halfWay =
    wall && middleMm === fromRim.pictureMm ? `, half-way down the wall of ${digits(wall.lengthMm)} mm` : "";
  return `${round}, its top ${digits(fromRim.pictureMm)} mm below the rim${halfWay}.`;
}

/** What the bend of a cone's bitmap means; undefined on a cylinder. */
export function bendWords(around: ReportAround): string | undefined {
  const { placed, cone } = around;
  if (!cone) return undefined;
  const arcs = "its rows are circles of the cone, and on the unrolled surface these are arcs";
  if (cone.layout === "flat") {
    const straight = placed?.bend ? ` In a straight bitmap ${offWords(around, placed.bend)}` : "";
    return `The bitmap is bent because ${arcs}. On the piece the picture is straight, like a flat label.${straight}`;
  }
  const bent = placed?.bend ? ` There ${offWords(around, placed.bend)}` : "";
  return `The bitmap is straight, but ${arcs}.${bent} On the piece level lines run parallel to the rim.`;
}

function offWords(
  { topDiameterMm, bottomDiameterMm }: ReportAround,
  { bowMm, taperMm }: NonNullable<ReportPlaced["bend"]>,
): string {
  const [narrow, wide] = topDiameterMm > bottomDiameterMm ? ["bottom", "top"] : ["top", "bottom"];
  return `level lines bow by ${tenths(bowMm)} mm, and the picture's ${narrow} is ${tenths(taperMm)} mm narrower than its ${wide}.`;
}

/** Only on a cone whose wall is not known. */
export const diametersNote = ({ placed, cone }: ReportAround): string | undefined =>
  placed && cone && !placed.wall
    ? "The length of the wall is not given, so the two diameters count at the top and bottom of the picture, not at the rim and foot of the piece."
    : undefined;
