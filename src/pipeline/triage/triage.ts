import { hasSeveralInks } from "../../1-photo/flat-colours.js";
import type { Photo } from "../../1-photo/photo.js";
import type { Frame } from "../../3-resample/frame.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { ResolvedOptions, SettledOptions } from "../../options/options.js";
import { shownShare } from "../describe/describe-picture.js";
import { engravedPart } from "../photo/engraved-part.js";
import { frameOf } from "../photo/piece-size.js";
import { settleKind } from "../photo/settle-kind.js";
import { type Finding, type Grade, gradeOf, type TriageFigures } from "./findings.js";
import { pxPerMmOf, type SeenOnPiece, seenOnPiece } from "./on-the-piece.js";
import { thresholds } from "./thresholds.js";
import { type ToneFacts, toneFacts } from "./tones.js";
import { transparentShare } from "./transparency.js";
import { finding, inOrder } from "./words.js";

/** The grade of an upload, its findings and the figures behind them. */
export interface Triage {
  readonly grade: Grade;
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly figures: TriageFigures;
}

/**
 * Judge whether a photo is good enough for the requested piece, before any other work on it.
 *
 * @throws SpotpitchError `OPTION_TOO_LARGE`, `OPTION_OUTSIDE_PHOTO`, `OPTION_CONFLICT`, or `INPUT_*` for a mask
 */
export async function triagePhoto(source: Photo, options: ResolvedOptions): Promise<Triage> {
  const frame = frameOf(source, options);
  const photo = await engravedPart(source, options);
  const { resolved, looksLikeArtwork } = settleKind(options, photo);
  return triagePart({ source, photo, frame, looksLikeArtwork }, resolved);
}

/** A photo, its engraved part and its place on the piece. */
export interface PhotoOnPiece {
  readonly source: Photo;
  readonly photo: Photo;
  readonly frame: Frame;
  readonly looksLikeArtwork: boolean;
}

/** The same, if the part to engrave and its kind are known. */
export function triagePart(
  { source, photo, frame, looksLikeArtwork }: PhotoOnPiece,
  options: SettledOptions,
): Triage {
  const tonal = options.kind === "photo" && source.format !== "svg";
  const tones = toneFacts(photo.luminance, photo.opacity);
  const { along, across } = pxPerMmOf(frame);
  const pxPerMm = source.format === "svg" ? 0 : Math.min(along, across);
  const neededPxPerMm = Math.min(
    1 / Math.sqrt(options.spot.alongMm * options.spot.acrossMm),
    1 / Math.sqrt(options.pitch.alongMm * options.pitch.acrossMm),
  );
  const seen = tonal
    ? seenOnPiece(photo, frame, { shownPxPerMm: neededPxPerMm, viewDistanceMm: options.viewDistanceMm })
    : undefined;
  const figures: TriageFigures = {
    widthPx: columnsOf(source.luminance),
    heightPx: rowsOf(source.luminance),
    pxPerMm,
    neededPxPerMm,
    largestWidthMm: (pictureSizeOf(frame).widthMm * pxPerMm) / neededPxPerMm,
    ...(seen?.blur && { blurMm: seen.blur.mm, blurSpots: seen.blur.spots }),
    ...(seen && { grainShare: seen.grain.grain / 255 }),
    clippedHighlights: tones.white,
    clippedShadows: tones.black,
    lightnessRange: tones.lightnessRange,
    blocking: seen?.blocking ?? 0,
  };
  const findings = [
    ...(source.looksDamaged ? [finding("DAMAGED", { grade: "ask" })] : []),
    ...shapeFindings(source, photo, frame, options),
    ...(source.format === "svg" ? [] : pixelFindings(figures, frame, options)),
    ...(seen ? tonalFindings(photo, seen, tones) : []),
    ...transparencyFindings(photo, options),
    ...(source.hasText ? [finding("TEXT_NOT_OUTLINED", { grade: "ask" })] : []),
    ...(source.pages > 1 ? [finding("MANY_PAGES", { grade: "note", pages: source.pages })] : []),
  ];
  const dots = findings.some(({ code }) => code === "ALREADY_DITHERED");
  if (looksLikeArtwork && !dots)
    findings.push(finding("ARTWORK", { grade: "note", severalInks: hasSeveralInks(photo.colours) }));
  return { grade: gradeOf(findings), findings: inOrder(findings), figures };
}

/** Size of the picture. A bitmap that is bent for a cone is larger. */
const pictureSizeOf = ({ widthMm, heightMm, placed }: Frame) => placed ?? { widthMm, heightMm };

/** The size that was asked for. A side that was not follows from the other. */
function askedSize(frame: Frame, { widthMm, heightMm }: ResolvedOptions) {
  const made = pictureSizeOf(frame);
  return { widthMm: widthMm ?? made.widthMm, heightMm: heightMm ?? made.heightMm };
}

/** The grade of a figure that exceeds a threshold. */
function graded(value: number, { note, ask }: { note: number; ask?: number }): "note" | "ask" | undefined {
  if (ask !== undefined && value > ask) return "ask";
  return value > note ? "note" : undefined;
}

const inverted = ({ note, ask }: { note: number; ask: number }) => ({ note: 1 / note, ask: 1 / ask });

function pixelFindings(figures: TriageFigures, frame: Frame, options: ResolvedOptions): Finding[] {
  const { widthMm } = askedSize(frame, options);
  const grade = graded(figures.neededPxPerMm / figures.pxPerMm, inverted(thresholds.pixels));
  return grade ? [finding("TOO_FEW_PIXELS", { ...figures, grade, widthMm })] : [];
}

/** Little contrast, and whether it is because all tones are in one half of the scale. */
function contrastFinding({ darkest, lightest, lightnessRange }: ToneFacts): Finding | undefined {
  const grade = graded(1 / Math.max(1e-3, lightnessRange), inverted(thresholds.lightnessRange));
  if (!grade) return undefined;
  const share = lightest - darkest;
  if (lightest < 0.5) return finding("TOO_DARK", { grade, share });
  if (darkest > 0.5) return finding("TOO_PALE", { grade, share });
  return finding("LOW_CONTRAST", { grade });
}

/** Soft edges and the corners of a screenshot are transparent too, but nobody would see it. */
function transparencyFindings({ opacity }: Photo, { mask }: ResolvedOptions): Finding[] {
  const share = opacity && !mask ? transparentShare(opacity) : 0;
  return share > thresholds.transparent ? [finding("TRANSPARENT", { grade: "note", share })] : [];
}

function shapeFindings(source: Photo, photo: Photo, frame: Frame, options: ResolvedOptions): Finding[] {
  const shape = columnsOf(photo.luminance) / rowsOf(photo.luminance);
  const { widthMm, heightMm } = pictureSizeOf(frame);
  const bothGiven = options.widthMm !== undefined && options.heightMm !== undefined;
  if (!bothGiven) {
    const grade = graded(Math.max(shape, 1 / shape), thresholds.shape);
    return grade ? [finding("EXTREME_SHAPE", { grade, ...askedSize(frame, options) })] : [];
  }
  if (options.fit === "stretch") {
    const ratio = widthMm / heightMm / shape;
    const grade = graded(Math.max(ratio, 1 / ratio), thresholds.stretched);
    return grade ? [finding("STRETCHED", { grade })] : [];
  }
  const lost = 1 - shownShare(source, frame, options);
  const grade = graded(lost, thresholds.cropped);
  return grade ? [finding("CROPPED", { grade, share: lost })] : [];
}

function tonalFindings(photo: Photo, seen: SeenOnPiece, tones: ToneFacts): Finding[] {
  const { dithered, flat, clipped } = thresholds;
  // Dots have no tones to judge.
  if (tones.extreme > dithered.extreme && tones.jumps > dithered.jumps)
    return [finding("ALREADY_DITHERED", { grade: "ask" })];
  const contrast = contrastFinding(tones);
  const findings = [...(contrast ? [contrast] : []), ...faultsOnPiece(seen)];
  // Few tones leave even areas, and pile up at an end of the scale: that is told already.
  const [dark, pale] = [contrast?.code === "TOO_DARK", contrast?.code === "TOO_PALE"];
  const lossless = !["jpeg", "avif", "heic"].includes(photo.format);
  const screen = lossless && tones.flat > flat && !dark && !pale;
  if (screen) findings.push(finding("SCREENSHOT", { grade: "note" }));
  if (!screen && !pale && tones.white > clipped.note)
    findings.push(finding("CLIPPED_HIGHLIGHTS", { grade: "note", share: tones.white }));
  if (!screen && !dark && tones.black > clipped.note)
    findings.push(finding("CLIPPED_SHADOWS", { grade: "note", share: tones.black }));
  return findings;
}

/** Blur, noise and blocks of compression that the piece would show. */
function faultsOnPiece({ blur, grain, blocking }: SeenOnPiece): Finding[] {
  const blurred = blur && graded(blur.px, thresholds.blurPx);
  const drowned = grain.overTones > thresholds.grainOverTones;
  const grainy = drowned ? "ask" : graded(grain.grain, thresholds.grain);
  const blocks = graded(blocking, thresholds.blocking);
  return [
    ...(blurred ? [finding("BLURRED", { grade: blurred, blurMm: blur.mm, blurSpots: blur.spots })] : []),
    ...(grainy ? [finding("GRAINY", { grade: grainy, drowned })] : []),
    ...(blocks ? [finding("BLOCKS", { grade: blocks })] : []),
  ];
}
