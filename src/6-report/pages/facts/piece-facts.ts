import { densityWords, mmWords } from "../../../core/words.js";
import type { Report, ReportAround, ReportScreen } from "../../report.js";
import { placeWords, startInShort } from "../../words/placing-words.js";
import { alongWords, densitiesWords, shownWords, sizeWords } from "../../words/report-words.js";
import { alongAcross, digits, factGroup, lightnessError, yesNo } from "./fact-group.js";

/** A length, if there is one. */
const lengthWords = (mm: number | undefined): string | undefined =>
  mm === undefined ? undefined : mmWords(mm);

/** The changes to the picture itself. */
export const pictureFacts = factGroup("Picture", ({ report }) => ({ ...report.input, ...report.job }), [
  ["File", ({ file }) => file || undefined],
  ["Size", ({ widthPx, heightPx }) => `${widthPx} × ${heightPx} pixels`],
  ["Resolution on the piece", ({ effectivePxPerMm }) => `${digits(effectivePxPerMm)} pixels per mm`],
  ["Automatic levels", ({ autoTone }) => yesNo(autoTone)],
  [
    "Cropped to",
    ({ crop }) => crop && `${crop.widthPx} × ${crop.heightPx} pixels`,
    ({ crop }) => crop && `from ${crop.leftPx}, ${crop.topPx}`,
  ],
  ["Shown on the piece", shownWords, "the rest was cut off to fill its shape"],
  [
    "Kept in view",
    ({ focus }) => focus && `${Math.round(focus.xPx)}, ${Math.round(focus.yPx)}`,
    "pixels of the photo",
  ],
  ["Mask", ({ mask }) => (mask === "" ? "yes" : mask)],
  ["Outline", ({ oval }) => oval && "oval"],
  ["Fades over", ({ vignetteMm }) => lengthWords(vignetteMm)],
  ["Border", ({ border }) => lengthWords(border?.widthMm), ({ border }) => border && borderNote(border)],
]);

const borderNote = ({ uprightMarkMm, levelMarkMm }: NonNullable<Report["job"]["border"]>): string =>
  `comes out ${mmWords(uprightMarkMm)} in vertical parts, ${mmWords(levelMarkMm)} in horizontal ones`;

export const pieceFacts = factGroup("Piece", ({ report }) => report.job, [
  ["Size", sizeWords, "true size, in whole pixels"],
  ["Pixels", ({ columns, rows }) => `${columns} × ${rows}`, "along the lines × lines"],
  ["Lines per inch", densitiesWords],
  ["Pitch", (job) => alongAcross(alongWords(job), mmWords(job.pitchAcrossMm)), "from pixel to pixel"],
  ["Mirrored", ({ mirror }) => yesNo(mirror)],
  ["Material", ({ material }) => material],
]);

const range = ({ least, most }: { readonly least: number; readonly most: number }, count: number): string =>
  `${least.toFixed(count)} to ${most.toFixed(count)}`;

const sectorNote = (cone: NonNullable<ReportAround["cone"]>): string =>
  `radii ${cone.sectorInnerRadiusMm.toFixed(1)} and ${cone.sectorOuterRadiusMm.toFixed(1)} mm; layout ${cone.layout}`;

export const aroundFacts = factGroup("Round piece", ({ report }) => report.job.around, [
  [
    "Diameter",
    ({ topDiameterMm, bottomDiameterMm, cone }) =>
      cone ? `${mmWords(topDiameterMm)} to ${mmWords(bottomDiameterMm)}` : mmWords(topDiameterMm),
    ({ cone, placed }) => cone && (placed ? "upper to lower edge of the bitmap" : "top to bottom"),
  ],
  [
    "Circumference",
    ({ circumferenceMm }) => `${circumferenceMm.toFixed(2)} mm`,
    ({ cone, placed }) => (cone ? "half-way down" : placed ? undefined : "the width; its ends meet"),
  ],
  [
    "Unrolled",
    ({ cone }) => cone && `a sector of ${cone.sectorAngleDeg.toFixed(1)}°`,
    ({ cone }) => cone && sectorNote(cone),
  ],
  [
    "Picture",
    ({ placed }) => placed && sizeWords({ widthMm: placed.pictureWidthMm, heightMm: placed.pictureHeightMm }),
    ({ placed }) => placed && placeWords(placed),
  ],
  [
    "Bitmap starts",
    ({ placed }) => placed && startInShort(placed),
    ({ placed }) =>
      placed &&
      `${placed.startAlongMm.toFixed(2)} mm along its middle row; ${placed.turnDeg.toFixed(2)}° wide`,
  ],
  [
    "Wall",
    ({ placed }) => placed?.wall && mmWords(placed.wall.lengthMm),
    ({ placed }) =>
      placed?.wall &&
      `rim ${mmWords(placed.wall.rimDiameterMm)}, foot ${mmWords(placed.wall.footDiameterMm)}`,
  ],
  ["Pitch along, row to row", ({ cone }) => cone && `${range(cone.pitchAlongMm, 3)} mm`],
  ["Dose, row to row", ({ cone }) => cone && range(cone.doseFactor, 2), "1 is half-way down"],
]);

/** The methods that `auto` compared. */
const trialWords = (ranking: NonNullable<Report["methodRanking"]>): string =>
  `picked by auto from trials on a typical part: ${ranking.map(({ method, trialError }) => `${method} ${lightnessError(trialError)}`).join(", ")}`;

const screenWords = ({ linesPerInch, angleDeg }: ReportScreen): string =>
  `${densityWords(linesPerInch)} rows of dots per inch at ${angleDeg.toFixed(1)}°`;

/** How the picture became pixels that burn. A drawing whose edges were placed has no facts about a halftone. */
export const renderingFacts = factGroup("Rendering", ({ report }) => ({ ...report, ...report.job }), [
  [
    "Kind of work",
    ({ kind }) => kind,
    ({ kindGuessed }) => (kindGuessed ? "guessed from the picture" : undefined),
  ],
  [
    "Halftone method",
    ({ method, edges }) => (edges ? undefined : method),
    ({ methodRanking }) => methodRanking && trialWords(methodRanking),
  ],
  ["Screen", ({ screen }) => screen && screenWords(screen), "as it comes out on the pixel grid"],
  ["Power levels", ({ levels }) => (levels === 2 ? "2 (on and off)" : String(levels))],
  ["Compensated for spot and material", ({ compensated }) => yesNo(compensated)],
  ["Tone map", ({ kind, toneMap }) => (kind === "solid" ? undefined : toneMap)],
  ["Negative", ({ negative }) => (negative ? "yes" : undefined), "light and dark swapped"],
  ["Scan of the halftone", ({ scan, edges }) => (edges ? undefined : scan)],
  ["Seed", ({ seed, edges }) => (edges ? undefined : String(seed))],
]);
