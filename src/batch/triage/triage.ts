import type { Photo } from "../../1-photo/photo.js";
import type { Frame } from "../../3-resample/frame.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";
import { shownShare } from "../../pipeline/describe/describe-picture.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import { settleKind } from "../../pipeline/photo/settle-kind.js";
import { shownPhoto } from "../../pipeline/photo/shown-photo.js";
import { blocking } from "./blocking.js";
import { blurSigmaPx } from "./blur.js";
import { type Finding, type Grade, gradeOf } from "./findings.js";
import { thresholds } from "./thresholds.js";
import { type ToneFacts, toneFacts } from "./tones.js";
import { messages } from "./words.js";

/** Full width at half maximum of a Gaussian over its σ. */
const FWHM_PER_SIGMA = 2 * Math.sqrt(2 * Math.LN2);

/** What a photo was judged by. */
export interface TriageFigures {
  readonly widthPx: number;
  readonly heightPx: number;
  /** On the piece, in the coarser direction; 0 for a drawing, which has none of its own. */
  readonly pxPerMm: number;
  /** What spot and pitch can show. */
  readonly neededPxPerMm: number;
  /** Widest piece that the pixels are enough for. */
  readonly largestWidthMm: number;
  /** Blur of the sharpest edges, full width at half maximum on the piece; absent where there are no edges. */
  readonly blurMm?: number;
  readonly clippedHighlights: number;
  readonly clippedShadows: number;
  readonly lightnessRange: number;
  readonly blocking: number;
}

/** How an upload may be treated, why, and by which figures. */
export interface Triage {
  readonly grade: Grade;
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly figures: TriageFigures;
}

/**
 * Judge whether a photo is good enough for the piece that is asked for, before any work on it.
 *
 * @throws SpotpitchError `OPTION_TOO_LARGE`, `OPTION_OUTSIDE_PHOTO`, `OPTION_CONFLICT`, or `INPUT_*` for a mask
 */
export async function triagePhoto(source: Photo, options: ResolvedOptions): Promise<Triage> {
  const frame = frameOf(source, options);
  const photo = await shownPhoto(source, options);
  const { resolved, looksLikeArtwork } = settleKind(options, photo);
  const tonal = resolved.kind === "photo" && source.format !== "svg";
  const tones = toneFacts(photo.luminance, photo.opacity);
  const sigmaPx = tonal ? blurSigmaPx(photo.luminance) : undefined;
  const pxPerMm = source.format === "svg" ? 0 : pxPerMmOf(frame);
  const neededPxPerMm = Math.min(
    1 / Math.sqrt(options.spot.alongMm * options.spot.acrossMm),
    1 / Math.sqrt(options.pitch.alongMm * options.pitch.acrossMm),
  );
  const figures: TriageFigures = {
    widthPx: columnsOf(source.luminance),
    heightPx: rowsOf(source.luminance),
    pxPerMm,
    neededPxPerMm,
    largestWidthMm: (frame.widthMm * pxPerMm) / neededPxPerMm,
    ...(sigmaPx !== undefined && { blurMm: (FWHM_PER_SIGMA * sigmaPx) / pxPerMm }),
    clippedHighlights: tones.white,
    clippedShadows: tones.black,
    lightnessRange: tones.lightnessRange,
    blocking: tonal ? blocking(source.luminance) : 0,
  };
  const findings = [
    ...(source.looksDamaged ? [messages.damaged()] : []),
    ...shapeFindings(source, frame, options, columnsOf(photo.luminance), rowsOf(photo.luminance)),
    ...(source.format === "svg" ? [] : pixelFindings(figures, frame)),
    ...(tonal ? tonalFindings(photo, figures, tones, options, sigmaPx) : []),
    ...(photo.opacity && !options.mask ? [messages.transparent()] : []),
    ...(source.pages > 1 ? [messages.manyPages(source.pages)] : []),
  ];
  const dots = findings.some(({ code }) => code === "ALREADY_DITHERED");
  if (looksLikeArtwork && !dots) findings.push(messages.artwork());
  findings.sort((a, b) => Number(b.grade === "ask") - Number(a.grade === "ask"));
  return { grade: gradeOf(findings), findings, figures };
}

const pxPerMmOf = ({ window, placement, columns, rows, widthMm, heightMm }: Frame): number =>
  Math.min(
    window.width / ((placement.columns / columns) * widthMm),
    window.height / ((placement.rows / rows) * heightMm),
  );

/** A note or a question where a figure passes the thresholds. */
function graded(value: number, { note, ask }: { note: number; ask?: number }): "note" | "ask" | undefined {
  if (ask !== undefined && value > ask) return "ask";
  return value > note ? "note" : undefined;
}

const inverted = ({ note, ask }: { note: number; ask: number }) => ({ note: 1 / note, ask: 1 / ask });

function pixelFindings(figures: TriageFigures, { widthMm }: Frame): Finding[] {
  const grade = graded(figures.neededPxPerMm / figures.pxPerMm, inverted(thresholds.pixels));
  return grade ? [messages.tooFewPixels(grade, figures, widthMm)] : [];
}

function shapeFindings(
  source: Photo,
  frame: Frame,
  options: ResolvedOptions,
  columns: number,
  rows: number,
): Finding[] {
  const bothGiven = options.widthMm !== undefined && options.heightMm !== undefined;
  if (!bothGiven) {
    const grade = graded(Math.max(columns / rows, rows / columns), thresholds.shape);
    return grade ? [messages.extremeShape(grade, frame)] : [];
  }
  if (options.fit === "stretch") {
    const ratio = frame.widthMm / frame.heightMm / (columns / rows);
    const grade = graded(Math.max(ratio, 1 / ratio), thresholds.stretched);
    return grade ? [messages.stretched(grade)] : [];
  }
  const lost = 1 - shownShare(source, frame, options);
  const grade = graded(lost, thresholds.cropped);
  return grade ? [messages.cropped(grade, lost)] : [];
}

function tonalFindings(
  photo: Photo,
  figures: TriageFigures,
  tones: ToneFacts,
  options: ResolvedOptions,
  sigmaPx: number | undefined,
): Finding[] {
  const { dithered, flat, clipped, lightnessRange } = thresholds;
  // Dots leave no tone to judge by.
  if (tones.extreme > dithered.extreme && tones.jumps > dithered.jumps) return [messages.alreadyDithered()];
  const findings: Finding[] = [];
  const spotMm = Math.sqrt(options.spot.alongMm * options.spot.acrossMm);
  const { blurMm } = figures;
  if (blurMm !== undefined && sigmaPx !== undefined && FWHM_PER_SIGMA * sigmaPx > thresholds.blurPx) {
    const grade = graded(blurMm / spotMm, thresholds.blurSpots);
    if (grade) findings.push(messages.blurred(grade, blurMm));
  }
  const blocks = graded(figures.blocking, thresholds.blocking);
  if (blocks) findings.push(messages.blocks(blocks));
  const contrast = graded(1 / Math.max(1e-3, tones.lightnessRange), inverted(lightnessRange));
  if (contrast) findings.push(messages.lowContrast(contrast));
  const lossless = photo.format !== "jpeg" && photo.format !== "avif";
  const screen = lossless && tones.flat > flat;
  if (screen) findings.push(messages.screenshot());
  if (!screen && tones.white > clipped.note) findings.push(messages.highlights(tones.white));
  if (!screen && tones.black > clipped.note) findings.push(messages.shadows(tones.black));
  return findings;
}
