import { mmWords } from "../../core/words.js";
import type { Report } from "../report.js";
import { shownWords } from "../words/report-words.js";

/** One line of the table: a fact that is undefined is left out, so that optional keys need no more than their line here. */
export type Fact = readonly [name: string, value: string | undefined, meaning?: string | undefined];

/** What was done to the picture as a picture; only what was asked for. */
export function pictureFacts(
  { crop, focus, mask, oval, vignetteMm, border }: Report["job"],
  input: Report["input"],
): Fact[] {
  return [
    [
      "Cropped to",
      crop && `${crop.widthPx} × ${crop.heightPx} pixels`,
      crop && `from ${crop.leftPx}, ${crop.topPx}`,
    ],
    ["On the piece", shownWords(input), "the rest was cut off to fill its shape"],
    ["Kept in view", focus && `${Math.round(focus.xPx)}, ${Math.round(focus.yPx)}`, "pixels of the photo"],
    ["Mask", mask === "" ? "yes" : mask],
    ["Outline", oval && "oval"],
    ["Fades over", vignetteMm === undefined ? undefined : mmWords(vignetteMm)],
    ["Border", border && mmWords(border.widthMm), border && marksOf(border)],
  ];
}

const marksOf = ({ uprightMarkMm, levelMarkMm }: NonNullable<Report["job"]["border"]>): string =>
  `comes out ${mmWords(uprightMarkMm)} vertical, ${mmWords(levelMarkMm)} horizontal`;

/** What a piece goes round. */
export function aroundFacts({ around }: Report["job"]): Fact[] {
  if (!around) return [];
  const { topDiameterMm, bottomDiameterMm, circumferenceMm, cone } = around;
  const range = (
    { least, most }: { readonly least: number; readonly most: number },
    digits: number,
  ): string => `${least.toFixed(digits)} to ${most.toFixed(digits)}`;
  return [
    ["Around", cone ? `${mmWords(topDiameterMm)} to ${mmWords(bottomDiameterMm)}` : mmWords(topDiameterMm)],
    ["Once round", `${circumferenceMm.toFixed(2)} mm`, cone ? "half-way down" : "the width, closed"],
    [
      "Unrolled",
      cone && `a sector of ${cone.sectorAngleDeg.toFixed(1)}°`,
      cone &&
        `radii ${cone.sectorInnerRadiusMm.toFixed(1)} and ${cone.sectorOuterRadiusMm.toFixed(1)} mm; laid ${cone.layout}`,
    ],
    ["Pitch along, row to row", cone && `${range(cone.pitchAlongMm, 3)} mm`],
    ["Dose, row to row", cone && range(cone.doseFactor, 2), "1 is half-way down"],
  ];
}
