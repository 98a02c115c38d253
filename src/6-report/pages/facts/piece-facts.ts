import { lengthNumber, lengthWords, type ShownUnits, sizeWords } from "../../../core/shown-units.js";
import { densityWords, mmWords } from "../../../core/words.js";
import type { Report, ReportAround, ReportScreen } from "../../report.js";
import { givenByWords } from "../../words/given-words.js";
import { placeWords, startInShort } from "../../words/placing-words.js";
import { alongWords, densitiesWords, shownWords } from "../../words/report-words.js";
import { searchWords } from "../../words/search-words.js";
import { alongAcross, digits, type FactSource, factGroup, lightnessError, yesNo } from "./fact-group.js";

/** A length, if there is one. */
const lengthIn = (mm: number | undefined, units: ShownUnits): string | undefined =>
  mm === undefined ? undefined : lengthWords(mm, units, 2);

/** The changes to the picture itself. */
export const pictureFacts = factGroup(
  "Picture",
  ({ report }) => ({ ...report.input, ...report.job, ...report.tone, units: report.units }),
  [
    ["File", ({ file }) => file || undefined],
    ["Size", ({ widthPx, heightPx }) => `${widthPx} × ${heightPx} pixels`],
    ["Resolution on the piece", ({ effectivePxPerMm }) => `${digits(effectivePxPerMm)} pixels per mm`],
    ["Automatic levels", ({ autoTone }) => yesNo(autoTone)],
    [
      "Dark parts lifted",
      ({ lift }) => (lift === undefined ? undefined : lift === 0 ? "no" : `strength ${lift.toFixed(2)}`),
      ({ lift, liftAutomatic }) => (lift && liftAutomatic ? "found from the picture" : undefined),
    ],
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
    ["Fades over", ({ vignetteMm, units }) => lengthIn(vignetteMm, units)],
    [
      "Border",
      ({ border, units }) => lengthIn(border?.widthMm, units),
      ({ border, units }) => border && borderNote(border, units),
    ],
  ],
);

const borderNote = (
  { uprightMarkMm, levelMarkMm }: NonNullable<Report["job"]["border"]>,
  units: ShownUnits,
): string =>
  `comes out ${lengthWords(uprightMarkMm, units, 2)} in vertical parts, ${lengthWords(levelMarkMm, units, 2)} in horizontal ones`;

export const pieceFacts = factGroup("Piece", ({ report }) => ({ ...report.job, units: report.units }), [
  ["Size", (job) => sizeWords(job, job.units), "true size, in whole pixels"],
  ["Pixels", ({ columns, rows }) => `${columns} × ${rows}`, "along the lines × lines"],
  ["Lines per inch", densitiesWords],
  ["Pitch", (job) => alongAcross(alongWords(job), mmWords(job.pitchAcrossMm)), "from pixel to pixel"],
  ["Mirrored", ({ mirror }) => yesNo(mirror)],
  ["Material", ({ material }) => material],
  ["Machine", ({ givenBy }) => givenByWords(givenBy)],
]);

const range = ({ least, most }: { readonly least: number; readonly most: number }, count: number): string =>
  `${least.toFixed(count)} to ${most.toFixed(count)}`;

const sectorNote = (cone: NonNullable<ReportAround["cone"]>, units: ShownUnits): string =>
  `radii ${lengthNumber(cone.sectorInnerRadiusMm, units)} and ${lengthWords(cone.sectorOuterRadiusMm, units)}; layout ${cone.layout}`;

const roundOf = ({ report: { job, units } }: FactSource) => job.around && { ...job.around, units };

export const aroundFacts = factGroup("Round piece", roundOf, [
  [
    "Diameter",
    ({ topDiameterMm, bottomDiameterMm, cone, units }) => {
      const top = lengthWords(topDiameterMm, units, 2);
      return cone ? `${top} to ${lengthWords(bottomDiameterMm, units, 2)}` : top;
    },
    ({ cone, placed }) => cone && (placed ? "upper to lower edge of the bitmap" : "top to bottom"),
  ],
  [
    "Circumference",
    ({ circumferenceMm, units }) => lengthWords(circumferenceMm, units, 2),
    ({ cone, placed }) => (cone ? "half-way down" : placed ? undefined : "the width; its ends meet"),
  ],
  [
    "Unrolled",
    ({ cone }) => cone && `a sector of ${cone.sectorAngleDeg.toFixed(1)}°`,
    ({ cone, units }) => cone && sectorNote(cone, units),
  ],
  [
    "Picture",
    ({ placed, units }) =>
      placed && sizeWords({ widthMm: placed.pictureWidthMm, heightMm: placed.pictureHeightMm }, units),
    ({ placed, units }) => placed && placeWords(placed, units),
  ],
  [
    "Bitmap starts",
    ({ placed, units }) => placed && startInShort(placed, units),
    ({ placed, units }) =>
      placed &&
      `${lengthWords(placed.startAlongMm, units, 2)} along its middle row; ${placed.turnDeg.toFixed(2)}° wide`,
  ],
  [
    "Wall",
    ({ placed, units }) => placed?.wall && lengthWords(placed.wall.lengthMm, units, 2),
    ({ placed, units }) => {
      if (!placed?.wall) return undefined;
      const [rim, foot] = [placed.wall.rimDiameterMm, placed.wall.footDiameterMm].map((diameterMm) =>
        lengthWords(diameterMm, units, 2),
      );
      return `rim ${rim}, foot ${foot}`;
    },
  ],
  ["Pitch along, row to row", ({ cone }) => cone && `${range(cone.pitchAlongMm, 3)} mm`],
  ["Dose, row to row", ({ cone }) => cone && range(cone.doseFactor, 2), "1 is half-way down"],
]);

/** The methods that `auto` compared, or a search for its start. */
const trialWords = (ranking: NonNullable<Report["methodRanking"]>, search: boolean): string =>
  `${search ? "begun with the best" : "picked by auto"} from trials on the photo's tones: ${ranking.map(({ method, trialError }) => `${method} ${lightnessError(trialError)}`).join(", ")}`;

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
    ({ methodRanking, search }) => methodRanking && trialWords(methodRanking, search !== undefined),
  ],
  ["Search", ({ search }) => search && searchWords(search)],
  ["Screen", ({ screen }) => screen && screenWords(screen), "as it comes out on the pixel grid"],
  ["Power levels", ({ levels }) => (levels === 2 ? "2 (on and off)" : String(levels))],
  ["Compensated for spot and material", ({ compensated }) => yesNo(compensated)],
  ["Tone map", ({ kind, toneMap }) => (kind === "solid" ? undefined : toneMap)],
  ["Negative", ({ negative }) => (negative ? "yes" : undefined), "light and dark swapped"],
  ["Scan of the halftone", ({ scan, edges }) => (edges ? undefined : scan)],
  ["Seed", ({ seed, edges }) => (edges ? undefined : String(seed))],
]);
