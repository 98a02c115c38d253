import type { Report, ReportAround, ReportPlaced } from "../6-report/report.js";
import { lossInWords } from "../6-report/words/fidelity-words.js";
import { givenByWords } from "../6-report/words/given-words.js";
import { paceWithAdvice, spotAdvice } from "../6-report/words/pace-words.js";
import {
  bendWords,
  diametersNote,
  placeWords,
  rotaryWords,
  startWords,
} from "../6-report/words/placing-words.js";
import {
  densitiesWords,
  limitWords,
  lossWords,
  pictureSize,
  shownWords,
  spotWords,
} from "../6-report/words/report-words.js";
import { searchWords } from "../6-report/words/search-words.js";
import { cautionsInShort } from "../core/material/cautions.js";
import { lengthNumber, lengthWords, METRIC, type ShownUnits, speedLimitWords } from "../core/shown-units.js";
import { durationWords, tonesWords, visible, wholePercent } from "../core/words.js";
import type { ResolvedOptions } from "../options/options.js";
import { commandReaderFor } from "./command-reader.js";
import { row } from "./labelled-row.js";

/**
 * The main facts about a prepared piece, in a dozen lines.
 *
 * @param boards lines about the boards on which it lies
 */
export function summaryOf(
  report: Report,
  files: readonly string[],
  options: ResolvedOptions,
  boards: readonly string[] = [],
): string {
  const { job, prediction, fidelity, edges, units } = report;
  const guessed = job.kindGuessed ? " (guessed from the picture)" : "";
  const lines = [
    row(
      "piece",
      `${sizeOf(pictureSize(job), units)} on ${job.material}, ${bentOf(report)}${job.columns} × ${job.rows} pixels`,
    ),
    ...pictureOf(report),
    ...liftOf(report),
    ...aroundOf(report),
    ...(job.kind === "solid" ? [row("kind", `solid: logo or lettering${guessed}`)] : []),
    ...(edges ? edgesOf(edges) : [row("halftone", halftoneOf(report))]),
    row(
      "density",
      `${densitiesWords(job)} lines per inch, spot ${spotWords(job)}${spotAdvice(job, commandReaderFor({ units }))}; spot/pitch ratio (overdrive) ${job.overdrive.toFixed(2)}; spots just touch (matched) at ${Math.round(job.matchedLinesPerInch)}`,
    ),
    ...[givenByWords(job.givenBy)].flatMap((words) => (words === undefined ? [] : [row("machine", words)])),
    row("power", report.power.message),
    ...tonesOf(report),
  ];
  if (prediction) {
    const { visualErrorRms, uncompensatedVisualErrorRms } = prediction;
    // Without compensation a search would begin with something else.
    const plain = job.search ? "" : `, ${uncompensatedVisualErrorRms.toFixed(2)} uncompensated`;
    lines.push(
      row(
        "visual error",
        `${visualErrorRms.toFixed(2)} L* with dose and spot as set${plain}; 1 = just noticeable`,
      ),
      row("expected", expectedOf(prediction, job.spread)),
    );
  }
  if (fidelity) lines.push(row("lost", lostOf(fidelity)));
  lines.push(
    ...(edges ? [] : [row("detail", detailOf(report)), ...alongOf(report)]),
    row("burn", `${burnOf(report)}, ${timeOf(report, options)}`),
    ...boards,
    ...report.warnings.map(({ message }) => row("warning", message)),
    ...files.map((file) => row("wrote", file)),
    "",
    "Cautions:",
    ...cautionsInShort(report.cautions, "report").map((caution) => `  - ${caution}`),
  );
  return lines.join("\n");
}

function timeOf({ job, runTime, units }: Report, options: ResolvedOptions): string {
  const { speedMmPerS, accelerationMmPerS2 } = options;
  const pace = { speedMmPerS, accelerationMmPerS2, assumed: job.assumed, isRound: job.around !== undefined };
  return `about ${durationWords(runTime.seconds)} at ${paceWithAdvice(pace, commandReaderFor({ units }))}`;
}

function aroundOf({ job, units }: Report): string[] {
  const { around, pitchAlongMm } = job;
  if (!around) return [];
  const { topDiameterMm, bottomDiameterMm, circumferenceMm, cone, placed } = around;
  const columns = `the columns ${placed ? "have" : "close at"} a pitch of ${Number(pitchAlongMm.toPrecision(5))} mm (in the file: nothing to set)`;
  const place = placed ? placedOf(around, placed, units) : [];
  const shown = (mm: number): string => lengthWords(mm, units);
  if (!cone) {
    const round = `${placed ? "" : "once "}round ${shown(circumferenceMm)}`;
    return [row("around", `${shown(topDiameterMm)}, ${round}; ${columns}`), ...place];
  }
  const range = ({ least, most }: { least: number; most: number }, digits: number) =>
    `${least.toFixed(digits)} to ${most.toFixed(digits)}`;
  return [
    row(
      "around",
      `cone of ${lengthNumber(topDiameterMm, units)} to ${shown(bottomDiameterMm)}, ${shown(circumferenceMm)} round at half its height; there ${columns}`,
    ),
    row(
      "",
      `unrolled: a sector of ${rounded(cone.sectorAngleDeg)}°, radii ${lengthNumber(cone.sectorInnerRadiusMm, units)} and ${shown(cone.sectorOuterRadiusMm)}; picture laid ${cone.layout}`,
    ),
    row(
      "",
      `over its rows: pitch along ${range(cone.pitchAlongMm, 3)} mm, spot/pitch along ${range(cone.overdriveAlong, 2)}, dose ${range(cone.doseFactor, 2)}`,
    ),
    ...place,
  ];
}

/** What to set on the rotary attachment, and where the picture then lies. */
function placedOf(around: ReportAround, placed: ReportPlaced, units: ShownUnits): string[] {
  const notes = [bendWords(around, units), diametersNote(around)].filter((note) => note !== undefined);
  return [
    row("place", `${startWords(placed, units)} ${placeWords(placed, units)}`),
    row("", rotaryWords(around, units)),
    ...notes.map((note) => row("", note)),
  ];
}

/** A bent bitmap is larger than its picture. */
const bentOf = ({ job, units }: Report): string =>
  job.around?.placed && job.around.cone?.layout === "flat" ? `bent bitmap ${sizeOf(job, units)}, ` : "";

const sizeOf = (
  { widthMm, heightMm }: Pick<Report["job"], "widthMm" | "heightMm">,
  units: ShownUnits,
): string => `${lengthNumber(widthMm, units)} × ${lengthWords(heightMm, units)}`;
const rounded = (value: number): string => String(Math.round(value * 10) / 10);

function halftoneOf(report: Report): string {
  const { method, levels, search } = report.job;
  if (search?.passes === 0)
    return `${search.startBitmap ?? search.start}, ${searchWords(search)}. Raise --seconds`;
  if (search) return `${method}${levels === 2 ? "" : ` of ${levels} power levels`}, ${searchWords(search)}`;
  if (levels === 2) return `${method}${pickedBy(report)}`;
  if (method === "threshold") return `none: each pixel takes the nearest of ${levels} power levels`;
  return `${method} of ${levels} power levels${pickedBy(report)}`;
}

function burnOf({ coverage, powerLevels }: Report): string {
  const share = `${(100 * coverage.burnFraction).toFixed(1)} %`;
  if (!powerLevels) return `${share} of the pixels`;
  return `${(100 * powerLevels.beamOnFraction).toFixed(1)} % of the pixels; mean power over all pixels ${share} of full`;
}

/** The methods that `auto` compared, in the order in which it tried them. */
function pickedBy({ job, methodRanking }: Report): string {
  if (!methodRanking) return "";
  const others = methodRanking
    .filter(({ method }) => method !== job.method)
    .map(({ method, trialError }) => `${method} ${trialError.toFixed(2)}`);
  const own = methodRanking.find(({ method }) => method === job.method)?.trialError ?? Number.NaN;
  const tie = methodRanking.some(({ trialError }) => Number(trialError.toFixed(2)) < Number(own.toFixed(2)))
    ? "; the finest texture of those that look as good"
    : "";
  return ` (chosen by auto: expected error ${own.toFixed(2)} L*; ${others.join(", ")}${tie})`;
}

function edgesOf(edges: NonNullable<Report["edges"]>): string[] {
  const [along, across] = [inwards(edges.growthAlongMm), inwards(edges.growthAcrossMm)];
  const moved = along === across ? along : `${along} along the lines and ${across} across`;
  return [
    row(
      "edges",
      `moved ${moved}, as far as marks grow; straight edges are right within ${edges.toleranceMm.toFixed(3)} mm on average and look smooth from ${Math.round(edges.smoothFromMm / 10)} cm on`,
    ),
    row(
      "thinnest",
      `strokes ${edges.thinnestMarkMm.toFixed(3)} mm, gaps ${edges.closingGapMm.toFixed(3)} mm; thinner strokes are kept, narrower gaps close`,
    ),
  ];
}

/** If marks end before the centres of the last pixels, edges move outwards. */
const inwards = (mm: number): string => `${mm < 0 ? "outwards" : "inwards"} by ${Math.abs(mm).toFixed(3)} mm`;

/** The visual error on a machine that varies, and its two parts. */
function expectedOf(
  { expectedVisualError, unevenness, toneShift }: NonNullable<Report["prediction"]>,
  { common, local, line, spot }: Report["job"]["spread"],
): string {
  const machine = common + local + line + spot === 0 ? "never varies" : "varies";
  const [expected, uneven, shift] = [expectedVisualError, unevenness, toneShift].map((each) =>
    each.toFixed(2),
  );
  return `${expected} L* on a machine that ${machine}: unevenness ${uneven} (grain, blotches, streaks), tone shift ${shift} (all tones lighter or darker: you see it only beside a proof, and you correct it with the power)`;
}

/** The share of the picture whose distinctions are gone. */
function lostOf({ lostShare, distinctShare, lost }: NonNullable<Report["fidelity"]>): string {
  const causes = lossInWords(lost);
  const why = causes.length > 0 ? `: ${causes.join("; ")}` : "";
  return `differences on ${share(lostShare)} of the picture; unprepared, it shows differences on ${share(distinctShare)} of it${why}`;
}

const share = (of: number): string => (of > 0 && of < 0.005 ? "less than 1 %" : wholePercent(of));

function tonesOf({ detail, tonalResolution }: Report): string[] {
  const at = (mm: number) => tonalResolution?.find(({ detailMm }) => detailMm === mm);
  const [fine, coarse] = [at(0.25), at(1)];
  if (!fine || !coarse) return [];
  const finestMm = 1 / (2 * Math.min(detail.alongLpPerMm.at10, detail.acrossLpPerMm.at10));
  const blurred =
    finestMm > coarse.detailMm ? `; details smaller than ${lengthWords(finestMm, METRIC)} blur away` : "";
  const inFine = `a detail of 0.25 mm shows ${tonesWords(fine.nominal)} (holds ${tonesWords(fine.held)} if the dose varies)`;
  return [
    row(
      "tones",
      `${inFine}, one of 1 mm ${tonesWords(coarse.nominal)} (${tonesWords(coarse.held)})${blurred}`,
    ),
  ];
}

/** The changes to the picture itself; nothing if there were none. */
function pictureOf({ input, job, units }: Report): string[] {
  const { crop, focus, mask, oval, vignetteMm, border, text } = job;
  const shown = shownWords(input);
  const done = [
    crop && `${crop.widthPx} × ${crop.heightPx} of ${input.widthPx} × ${input.heightPx} pixels`,
    shown !== undefined && `${shown} of it, cut to fit`,
    focus && `about ${rounded(focus.xPx)}, ${rounded(focus.yPx)}`,
    mask !== undefined && `masked by ${mask}`,
    oval && "oval",
    vignetteMm !== undefined && `fading over ${lengthWords(vignetteMm, units)}`,
    border && borderOf(border, units),
    text && `"${visible(text.words)}" below it, capitals ${lengthWords(text.heightMm, units)}`,
    input.transparent && "transparent parts stay bare",
  ].filter((part) => typeof part === "string");
  return done.length === 0 ? [] : [row("picture", done.join(", "))];
}

/** Only if dark parts were lifted. */
function liftOf({ tone }: Report): string[] {
  if (!tone || tone.lift === 0) return [];
  const why = tone.liftAutomatic
    ? ", found from the picture: a dark part in front of a light one; --lift sets it, --lift 0 is off"
    : "";
  return [row("lift", `dark parts lifted with strength ${tone.lift.toFixed(2)}${why}`)];
}

function borderOf(
  { uprightMarkMm, levelMarkMm }: NonNullable<Report["job"]["border"]>,
  units: ShownUnits,
): string {
  const [upright, level] = [uprightMarkMm, levelMarkMm].map((mm) => lengthNumber(mm, units, 2));
  return `with a border of ${upright === level ? upright : `${upright} (vertical) and ${level} (horizontal)`} ${units.length}`;
}

function detailOf({ detail }: Report): string {
  const along = detail.alongLpPerMm.at10.toFixed(1);
  const across = detail.acrossLpPerMm.at10.toFixed(1);
  const carried = along === across ? across : `${along} (along) and ${across} (across)`;
  return `at least a tenth of the contrast up to ${carried} line pairs per mm; the photo carries ${detail.photoLpPerMm.toFixed(1)}; ${limitWords[detail.limitedBy]}`;
}

/**
 * Only with a firing lag: the detail that it leaves along the lines, and the speed below which it is not the limit. Only with a
 * firing loss: what it takes from a line.
 */
function alongOf({ detail: { alongLimits }, units }: Report): string[] {
  const { spotLpPerMm, pitchLpPerMm, firingLpPerMm, firingFreeUpToMmPerS, firingLossMm } = alongLimits;
  const loss = firingLossMm === undefined ? [] : [row("along a line", lossWords(firingLossMm))];
  if (firingLpPerMm === undefined || firingFreeUpToMmPerS === undefined) return loss;
  const each = `firing leaves half the contrast at ${rounded(firingLpPerMm)} line pairs per mm, the spot at ${rounded(spotLpPerMm)}, the pitch carries ${rounded(pitchLpPerMm)}`;
  return [
    row("along a line", `${each}; above ${speedLimitWords(firingFreeUpToMmPerS, units)} firing is the limit`),
    ...loss,
  ];
}
