import { lengthWords, type ShownUnits } from "../../core/shown-units.js";
import type { ReportAround, ReportPlaced } from "../report.js";

/** To a hundredth, without trailing zeros. */
const digits = (value: number): string => String(Number(value.toFixed(2)));
/** A length to a hundredth of a mm or a thousandth of an inch. */
const exactly = (mm: number, units: ShownUnits): string => lengthWords(mm, units, 2);

/** The diameter for the rotary attachment: that half-way down the bitmap. */
export const rotaryDiameterWords = (
  { topDiameterMm, bottomDiameterMm }: ReportAround,
  units: ShownUnits,
): string => exactly((topDiameterMm + bottomDiameterMm) / 2, units);

/** The machine's start, for a tile: `50.76°, 20 mm`. */
export const startInShort = ({ startAngleDeg, fromRim }: ReportPlaced, units: ShownUnits): string =>
  [`${digits(startAngleDeg)}°`, ...(fromRim ? [exactly(fromRim.bitmapMm, units)] : [])].join(", ");

/** Where the bitmap starts. */
export function startWords(
  { startAngleDeg, startAlongMm, fromRim }: ReportPlaced,
  units: ShownUnits,
): string {
  const height = fromRim
    ? `start ${exactly(fromRim.bitmapMm, units)} below the rim`
    : "start at the height that you choose";
  return `Rotate to ${digits(startAngleDeg)}° (${exactly(startAlongMm, units)}) from your mark and ${height}: the upper left corner of the bitmap lies there.`;
}

/** What the mark is. At an angle of 0 the picture goes onto it. */
const markWords = (angleDeg: number): string =>
  angleDeg === 0
    ? "Your mark is where the middle of the picture will lie: draw a line there. If the piece has a handle or a seam, take that as your mark, and give 180deg as the place to put the picture on the other side"
    : "Your mark is a seam, a handle or a line that you draw";

/** The mark, and the diameter for the rotary attachment. */
export function rotaryWords(around: ReportAround, units: ShownUnits): string {
  const diameter = `Set the rotary attachment to a diameter of ${rotaryDiameterWords(around, units)}`;
  return `${markWords(around.placed?.angleDeg ?? 0)}. Angles count to the right with the rim up. ${diameter}${around.cone ? ", half-way down the bitmap; measure down the slope" : ""}.`;
}

/** Where the picture comes to lie. */
export function placeWords(
  { angleDeg, fromRim, wall, pictureHeightMm }: ReportPlaced,
  units: ShownUnits,
): string {
  const round =
    angleDeg === 0
      ? "The middle of the picture lies on your mark"
      : `The picture's middle lies at ${digits(angleDeg)}°`;
  if (!fromRim) return `${round}.`;
  const middleMm = wall && (wall.lengthMm - pictureHeightMm) / 2;
  const halfWay =
    wall && middleMm === fromRim.pictureMm
      ? `, half-way down the wall of ${exactly(wall.lengthMm, units)}`
      : "";
  return `${round}, its top ${exactly(fromRim.pictureMm, units)} below the rim${halfWay}.`;
}

/** What the bend of a cone's bitmap means; undefined on a cylinder. */
export function bendWords(around: ReportAround, units: ShownUnits): string | undefined {
  const { placed, cone } = around;
  if (!cone) return undefined;
  const arcs = "its rows are circles of the cone, and on the unrolled surface these are arcs";
  if (cone.layout === "flat") {
    const straight = placed?.bend ? ` In a straight bitmap ${offWords(around, placed.bend, units)}` : "";
    return `The bitmap is bent because ${arcs}. On the piece the picture is straight, like a flat label.${straight}`;
  }
  const bent = placed?.bend ? ` There ${offWords(around, placed.bend, units)}` : "";
  return `The bitmap is straight, but ${arcs}.${bent} On the piece level lines run parallel to the rim.`;
}

function offWords(
  { topDiameterMm, bottomDiameterMm }: ReportAround,
  { bowMm, taperMm }: NonNullable<ReportPlaced["bend"]>,
  units: ShownUnits,
): string {
  const [narrow, wide] = topDiameterMm > bottomDiameterMm ? ["bottom", "top"] : ["top", "bottom"];
  return `level lines bow by ${lengthWords(bowMm, units)}, and the picture's ${narrow} is ${lengthWords(taperMm, units)} narrower than its ${wide}.`;
}

/** Only on a cone whose wall is not known. */
export const diametersNote = ({ placed, cone }: ReportAround): string | undefined =>
  placed && cone && !placed.wall
    ? "The length of the wall is not given, so the two diameters count at the top and bottom of the picture, not at the rim and foot of the piece."
    : undefined;
