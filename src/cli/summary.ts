import type { Report } from "../6-report/report.js";
import { lossInWords } from "../6-report/words/fidelity-words.js";
import {
  densitiesWords,
  limitWords,
  lossWords,
  powerWords,
  shownWords,
  spotWords,
} from "../6-report/words/report-words.js";
import { cautionsInShort } from "../core/material/cautions.js";
import { durationWords, tonesWords, wholePercent } from "../core/words.js";
import type { ResolvedOptions } from "../options/options.js";

/** The main facts about a prepared piece, in a dozen lines. */
export function summaryOf(report: Report, files: readonly string[], options: ResolvedOptions): string {
  const { job, prediction, fidelity, runTime, edges } = report;
  const guessed = job.kindGuessed ? " (guessed from the picture)" : "";
  const lines = [
    row(
      "piece",
      `${length(job.widthMm)} × ${length(job.heightMm)} mm on ${job.material}, ${job.columns} × ${job.rows} pixels`,
    ),
    ...pictureOf(report),
    ...aroundOf(report),
    ...(job.kind === "solid" ? [row("kind", `solid: logo or lettering${guessed}`)] : []),
    ...(edges ? edgesOf(edges) : [row("halftone", halftoneOf(report))]),
    row(
      "density",
      `${densitiesWords(job)} lines per inch, spot ${spotWords(job)}; spot/pitch ratio (overdrive) ${job.overdrive.toFixed(2)}; spots just touch (matched) at ${Math.round(job.matchedLinesPerInch)}`,
    ),
    row("power", powerWords(report, options.material.referencePitchMm)),
    ...tonesOf(report),
  ];
  if (prediction) {
    lines.push(
      row(
        "visual error",
        `${prediction.visualErrorRms.toFixed(2)} L* with dose and spot as set, ${prediction.uncompensatedVisualErrorRms.toFixed(2)} uncompensated; 1 = just noticeable`,
      ),
      row("expected", expectedOf(prediction, job.spread)),
    );
  }
  if (fidelity) lines.push(row("lost", lostOf(fidelity)));
  lines.push(
    ...(edges ? [] : [row("detail", detailOf(report)), ...alongOf(report)]),
    row(
      "burn",
      `${burnOf(report)}, about ${durationWords(runTime.seconds)} at ${rounded(options.speedMmPerS)} mm/s${job.around ? ` if the turning surface accelerates at ${rounded(options.accelerationMmPerS2)} mm/s² (--accel)` : ""}`,
    ),
    ...report.warnings.map(({ message }) => row("warning", message)),
    ...files.map((file) => row("wrote", file)),
    "",
    "Cautions:",
    ...cautionsInShort(report.cautions, "report").map((caution) => `  - ${caution}`),
  );
  return lines.join("\n");
}

function aroundOf({ job }: Report): string[] {
  const { around, pitchAlongMm } = job;
  if (!around) return [];
  const { topDiameterMm, bottomDiameterMm, circumferenceMm, cone } = around;
  const columns = `the columns close at a pitch of ${Number(pitchAlongMm.toPrecision(5))} mm`;
  if (!cone)
    return [
      row("around", `${rounded(topDiameterMm)} mm, once round ${rounded(circumferenceMm)} mm; ${columns}`),
    ];
  const range = ({ least, most }: { least: number; most: number }, digits: number) =>
    `${least.toFixed(digits)} to ${most.toFixed(digits)}`;
  return [
    row(
      "around",
      `cone of ${rounded(topDiameterMm)} to ${rounded(bottomDiameterMm)} mm, ${rounded(circumferenceMm)} mm round at half its height; there ${columns}`,
    ),
    row(
      "",
      `unrolled: a sector of ${rounded(cone.sectorAngleDeg)}°, radii ${rounded(cone.sectorInnerRadiusMm)} and ${rounded(cone.sectorOuterRadiusMm)} mm; picture laid ${cone.layout}`,
    ),
    row(
      "",
      `over its rows: pitch along ${range(cone.pitchAlongMm, 3)} mm, spot/pitch along ${range(cone.overdriveAlong, 2)}, dose ${range(cone.doseFactor, 2)}`,
    ),
  ];
}

const row = (label: string, text: string): string => `${label.padEnd(13)} ${text}`;
const rounded = (value: number): string => String(Math.round(value * 10) / 10);
/** In tenths of a mm; with two digits below 1 mm. */
const length = (mm: number): string => (mm < 1 ? String(Number(mm.toPrecision(2))) : rounded(mm));

function halftoneOf(report: Report): string {
  const { method, levels } = report.job;
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
    ? "; practically the least error, and the simplest"
    : "";
  return ` (chosen by auto: expected error ${own.toFixed(2)} L*; ${others.join(", ")}${tie})`;
}

/** The smallest visible steps in the edges of lettering at 300 mm: a quarter of a minute of arc. Vernier acuity is even finer. */
const ROUGH_MM = 0.02;

function edgesOf(edges: NonNullable<Report["edges"]>): string[] {
  const [along, across] = [inwards(edges.growthAlongMm), inwards(edges.growthAcrossMm)];
  const moved = along === across ? along : `${along} along the lines and ${across} across`;
  return [
    row(
      "edges",
      `moved ${moved}, as far as marks grow; straight edges are right within ${edges.toleranceMm.toFixed(3)} mm${edges.toleranceMm > ROUGH_MM ? "; a higher --density places them more finely" : ""}`,
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
  return `differences on ${share(lostShare)} of the picture; the photo shows differences on ${share(distinctShare)} of it${why}`;
}

const share = (of: number): string => (of > 0 && of < 0.005 ? "less than 1 %" : wholePercent(of));

function tonesOf({ detail, tonalResolution }: Report): string[] {
  const at = (mm: number) => tonalResolution?.find(({ detailMm }) => detailMm === mm);
  const [fine, coarse] = [at(0.25), at(1)];
  if (!fine || !coarse) return [];
  const finestMm = 1 / (2 * Math.min(detail.alongLpPerMm.at10, detail.acrossLpPerMm.at10));
  const blurred = finestMm > coarse.detailMm ? `; details smaller than ${length(finestMm)} mm blur away` : "";
  const inFine = `a detail of 0.25 mm shows ${tonesWords(fine.nominal)} (holds ${tonesWords(fine.held)} if the dose varies)`;
  return [
    row(
      "tones",
      `${inFine}, one of 1 mm ${tonesWords(coarse.nominal)} (${tonesWords(coarse.held)})${blurred}`,
    ),
  ];
}

/** The changes to the picture itself; nothing if there were none. */
function pictureOf({ input, job }: Report): string[] {
  const { crop, focus, mask, oval, vignetteMm, border } = job;
  const shown = shownWords(input);
  const done = [
    crop && `${crop.widthPx} × ${crop.heightPx} of ${input.widthPx} × ${input.heightPx} pixels`,
    shown !== undefined && `${shown} of it, cut to fit`,
    focus && `about ${rounded(focus.xPx)}, ${rounded(focus.yPx)}`,
    mask !== undefined && `masked by ${mask}`,
    oval && "oval",
    vignetteMm !== undefined && `fading over ${length(vignetteMm)} mm`,
    border && borderOf(border),
    input.transparent && "transparent parts stay bare",
  ].filter((part) => typeof part === "string");
  return done.length === 0 ? [] : [row("picture", done.join(", "))];
}

function borderOf({ uprightMarkMm, levelMarkMm }: NonNullable<Report["job"]["border"]>): string {
  const [upright, level] = [uprightMarkMm, levelMarkMm].map((mm) => mm.toFixed(2));
  return `with a border of ${upright === level ? upright : `${upright} (vertical) and ${level} (horizontal)`} mm`;
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
function alongOf({ detail: { alongLimits } }: Report): string[] {
  const { spotLpPerMm, pitchLpPerMm, firingLpPerMm, firingFreeUpToMmPerS, firingLossMm } = alongLimits;
  const loss = firingLossMm === undefined ? [] : [row("along a line", lossWords(firingLossMm))];
  if (firingLpPerMm === undefined || firingFreeUpToMmPerS === undefined) return loss;
  const each = `firing leaves half the contrast at ${rounded(firingLpPerMm)} line pairs per mm, the spot at ${rounded(spotLpPerMm)}, the pitch carries ${rounded(pitchLpPerMm)}`;
  return [
    row("along a line", `${each}; above ${Math.floor(firingFreeUpToMmPerS)} mm/s firing is the limit`),
    ...loss,
  ];
}
