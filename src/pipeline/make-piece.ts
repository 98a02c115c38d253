import { availableParallelism } from "node:os";
import { type BegunPhoto, beginDecoding, type Photo } from "../1-photo/decode.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import type { ByteSink } from "../6-report/files/deflate.js";
import { encodePreviewPng } from "../6-report/files/preview-png.js";
import type { Report } from "../6-report/report.js";
import { createKernelMemory } from "../core/kernel-memory.js";
import type { PackedBitmap } from "../core/packed-bits.js";
import { libraryReader, type Reader } from "../core/reader.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../options/options.js";
import { threadsAvailable } from "../workers/thread.js";
import { drawingOnGrid, placeDrawing } from "./burn/artwork.js";
import { type BurnRule, burnRule } from "./burn/burn-rule.js";
import { type BurnStage, createBurnStage } from "./burn/burn-stage.js";
import { startBurnThread } from "./burn/burn-thread.js";
import { type ChosenMethod, fittingMethod, methodFor } from "./burn/choose-method.js";
import { halftonePiece } from "./burn/halftone-piece.js";
import { describePiece } from "./describe/describe-piece.js";
import { createPageDraft, type PageDraft } from "./describe/page-draft.js";
import type { PiecePictures } from "./describe/piece-pictures.js";
import { createJob, type Job, jobWith, type SettledJob } from "./job.js";
import { measureFidelity } from "./judge/fidelity.js";
import { judgePiece } from "./judge/judge-piece.js";
import { levelSteps, onOffTones } from "./judge/level-facts.js";
import { toneCounts } from "./judge/tone-counts.js";
import type { CurveStore } from "./kept-tables.js";
import type { JudgedPiece, MadePiece, SettledPicture } from "./made-piece.js";
import { engravedPart } from "./photo/engraved-part.js";
import { luminanceRows, photoOnGrid } from "./photo/luminance.js";
import type { PictureOnGrid } from "./photo/picture-rows.js";
import { checkPlaces, decodeHints, frameOf, worthAThread } from "./photo/piece-size.js";
import { seamStep } from "./photo/seam.js";
import { settleKind } from "./photo/settle-kind.js";
import { searchedBitmap } from "./search/searched-bitmap.js";
import type { Finding } from "./triage/findings.js";
import { triagePart } from "./triage/triage.js";

/** Steps of a preparation, in the order in which `onProgress` gets them. */
export type Stage = "decode" | "tone" | "method" | "halftone" | "search" | "predict" | "tones" | "write";

/** Is told each step as it begins. @param share of a long step that is done, 0..1; only while searching */
export type OnProgress = (stage: Stage, share?: number) => void;

/** Context of `prepare` beside its options. */
export interface PrepareContext {
  /** Shown in the report and in messages; never opened. */
  readonly fileName?: string | undefined;
  /** Who reads the warnings. Default: a programmer who calls the library. */
  readonly reader?: Reader | undefined;
  readonly onProgress?: OnProgress | undefined;
  /** Keeps tone curves and other measurements of halftones from one call to the next. */
  readonly curves?: CurveStore | undefined;
  /** Maximum number of threads; only a search uses more than two. Default: as many as the computer runs at once. */
  readonly threads?: number | undefined;
}

/** Receivers of a piece's files. Each gets the bytes in order, part by part. */
export interface PieceSinks {
  readonly burn: ByteSink;
  /** Not called with `bitmapOnly`. Without it no preview is drawn. */
  readonly preview?: ByteSink;
  /** The report as a page. Not called with `bitmapOnly`. Without it no page is drawn. */
  readonly reportPage?: ByteSink;
}

/** The wanted results of a piece. */
export interface PieceWishes {
  /** A file without a sink is not made. */
  readonly files: Partial<PieceSinks>;
  /** Whether to keep the bitmap until the end. With a prediction it is kept anyway. */
  readonly keepBitmap: boolean;
  /**
   * Whether to complete the report. Otherwise it has no figures for comparison: the error without compensation (and so the
   * prediction), the tones with the beam on or off, the step at the seam.
   */
  readonly wholeReport: boolean;
  /** Whether to judge the photo, and what of it the piece keeps. */
  readonly aboutPhoto: boolean;
}

/** A photo to decode, or one that is being decoded. */
export type PhotoSource = Uint8Array | DecodedSource;

export interface DecodedSource extends BegunPhoto {
  /** The engraved part of the photo, masked and cropped, if it is already known. */
  readonly engraved?: () => Promise<Photo>;
}

/** A report and the piece that it describes. */
export interface PieceResult {
  readonly report: Report;
  readonly piece: MadePiece;
  /** The judged piece. Absent with `bitmapOnly`. */
  readonly judged?: JudgedPiece;
}

/** Make a piece. All callers use it: for files, for a row of a plan, for a candidate of a comparison. */
export async function makePiece(
  photo: PhotoSource,
  options: PrepareOptions,
  wishes: PieceWishes,
  context: PrepareContext,
): Promise<PieceResult> {
  const { fileName = "", reader = libraryReader, onProgress: progress = () => {} } = context;
  const checked = resolveOptions(options);
  const named = namedMethod(checked);
  progress("decode");
  const decoding = await beginPhoto(photo, checked, context.fileName);
  const early = createJob(checked, createKernelMemory(), context.curves);
  const stage = openBurnStage(early, context.threads);
  try {
    const earlyRule = await workBeforePhoto(early, named, stage);
    const source = await decoding.photo;
    progress("tone");
    const settled = await placeOnGrid(early, source, decoding.engraved);
    const { job, picture } = settled;
    if (!named) progress("method");
    const chosen = await methodFor(job, picture);
    progress("halftone");
    const rule = earlyRule ?? (await burnRule(job, chosen.method, stage));
    const page = beginPage(job, picture, wishes, stage, reader);
    const making = { ...settled, ...chosen, rule, stage, page };
    const burned = await burnPicture(making, wishes, context);
    const aside = wishes.wholeReport ? stepsAndSeam(job, picture) : {};
    const findings = wishes.aboutPhoto ? findingsAbout(source, settled) : [];
    const made = { ...settled, ...chosen, rule, fileName, reader, source, findings };
    const piece: MadePiece = { ...made, ...burned, ...aside };
    const { bitmap } = piece.burned;
    if (!bitmap || job.options.bitmapOnly) {
      progress("write");
      return { piece, report: describePiece(piece) };
    }
    progress("predict");
    const picturing = beginPictures(making, wishes);
    const judgement = judgeBurned(making, bitmap, wishes);
    progress("tones");
    const counted = await countTones(making, wishes);
    const pictures = await picturing;
    const fidelity =
      wishes.aboutPhoto && pictures && measureFidelity(job, picture, pictures.piece, counted.tones);
    const judged: JudgedPiece = { ...piece, bitmap, ...judgement, ...counted, ...(fidelity && { fidelity }) };
    const report = describePiece(judged);
    progress("write");
    await writePictures(pictures, judged, report, { page, files: wishes.files });
    return { piece, report, judged };
  } finally {
    stage.close();
  }
}

/** A method that is known before the photo: not `auto`, and not a search, whose start depends on the photo. */
function namedMethod(options: ResolvedOptions): HalftoneMethod | undefined {
  if (options.method === "auto") return undefined;
  const method = fittingMethod(options.method, options);
  return method.searches ? undefined : method;
}

/** Start to decode on other threads. Places outside the photo are refused as soon as its size is known. */
async function beginPhoto(
  photo: PhotoSource,
  options: ResolvedOptions,
  fileName: string | undefined,
): Promise<DecodedSource> {
  const begun =
    photo instanceof Uint8Array ? await beginDecoding(photo, decodeHints(options, fileName)) : photo;
  if (begun.facts) checkPlaces(begun.facts, options);
  return begun;
}

/** The half of the job that begins with burn fractions, on its own thread if that saves time. */
function openBurnStage(job: Job, threads = availableParallelism()): BurnStage {
  const apart = threads > 1 && threadsAvailable && worthAThread(job.options);
  return apart ? startBurnThread(job) : createBurnStage(job);
}

/** Make the model, and the tone curve of a named method, while the decoder works. Neither needs the photo. */
async function workBeforePhoto(
  job: Job,
  named: HalftoneMethod | undefined,
  stage: BurnStage,
): Promise<BurnRule | undefined> {
  job.model; // made here, while the decoder works
  return named && burnRule(job, named, stage);
}

/** Settle the kind of picture and lay it on the grid. A drawing mixes its edges in luminance. */
async function placeOnGrid(
  early: Job,
  source: Photo,
  engraved: DecodedSource["engraved"],
): Promise<SettledPicture> {
  const frame = frameOf(source, early.options);
  const photo = await (engraved?.() ?? engravedPart(source, early.options));
  const { resolved, ...kind } = settleKind(early.options, photo);
  const job = jobWith(early, resolved);
  const drawing = resolved.kind === "solid" ? drawingOnGrid(photo, frame, resolved) : undefined;
  return { job, kind, drawing, picture: drawing ?? photoOnGrid(photo, frame, resolved) };
}

/** An unfinished piece. */
interface Making extends SettledPicture, ChosenMethod {
  readonly rule: BurnRule;
  readonly stage: BurnStage;
  readonly page: PageDraft | undefined;
}

function beginPage(
  job: SettledJob,
  { frame }: PictureOnGrid,
  { files }: PieceWishes,
  stage: BurnStage,
  reader: Reader,
): PageDraft | undefined {
  return files.reportPage && !job.options.bitmapOnly ? createPageDraft(job, frame, stage, reader) : undefined;
}

/** Turn the picture into a bitmap: by its halftone, or for a drawing by its edges. A search goes on from there. */
async function burnPicture(
  { job, picture, drawing, method, search, rule, stage, page }: Making,
  { files, keepBitmap }: PieceWishes,
  { onProgress, threads }: PrepareContext,
): Promise<Pick<MadePiece, "burned" | "edges" | "searched">> {
  const isSearched = search !== undefined && !drawing;
  const keep = keepBitmap || !job.options.bitmapOnly || isSearched;
  const sink = isSearched ? undefined : files.burn;
  await stage.begin({ methodId: method.id, frame: picture.frame, keep, sink });
  const solid = job.options.compensate ? drawing : undefined;
  const edges = solid && (await placeDrawing(job, solid, stage));
  if (solid) page?.look(luminanceRows(job, picture));
  else await halftonePiece(job, picture, rule, { stage, watch: page?.watch });
  const burned = await stage.end();
  if (!isSearched || !burned.bitmap) return { burned, edges };
  onProgress?.("search");
  const wishes = { aim: search.aim, threads, onProgress: (share: number) => onProgress?.("search", share) };
  return searchedBitmap(job, { picture, method, bitmap: burned.bitmap }, wishes, files.burn);
}

const findingsAbout = (
  source: Photo,
  { job, kind, picture: { photo, frame } }: SettledPicture,
): readonly Finding[] =>
  triagePart({ source, photo, frame, looksLikeArtwork: kind.looksLikeArtwork }, job.options).findings;

function stepsAndSeam(job: SettledJob, picture: PictureOnGrid): Pick<MadePiece, "steps" | "seam"> {
  return { ...(job.options.levels > 2 && { steps: levelSteps(job) }), seam: seamStep(picture) };
}

/** Request pictures and charts before the piece is judged, so that the other half makes them meanwhile. */
function beginPictures(
  { method, rule, stage, page }: Making,
  { files, aboutPhoto }: PieceWishes,
): Promise<PiecePictures> | undefined {
  if (!files.preview && !page && !aboutPhoto) return undefined;
  const picturing = stage.pictures(page !== undefined);
  picturing.catch(() => {}); // reported when they are needed
  page?.begin(method.id, rule.curve);
  return picturing;
}

function judgeBurned(
  { job, picture, method }: Making,
  bitmap: PackedBitmap,
  { wholeReport }: PieceWishes,
): Pick<JudgedPiece, "codes" | "errors"> {
  const codes = luminanceRows(job, picture);
  const errors = judgePiece(job, { frame: picture.frame, bitmap, codes }, wholeReport ? method : undefined);
  return { codes, errors };
}

/** Tones of a photograph. With power levels also those of the same job with the beam on or off. */
async function countTones(
  { job, picture, drawing, method, rule }: Making,
  { wholeReport }: PieceWishes,
): Promise<Pick<MadePiece, "tones" | "onOff">> {
  return {
    ...(!drawing && { tones: await toneCounts(job, method, rule) }),
    ...(wholeReport && job.options.levels > 2 && { onOff: await onOffTones(job, method, picture) }),
  };
}

async function writePictures(
  pictures: PiecePictures | undefined,
  { fidelity }: JudgedPiece,
  report: Report,
  { page, files }: Pick<Making, "page"> & Pick<PieceWishes, "files">,
): Promise<void> {
  if (!pictures) return;
  const [preview, text] = await Promise.all([
    files.preview && encodePreviewPng(pictures.preview),
    page?.finish(report, pictures, fidelity?.map),
  ]);
  if (preview) await files.preview?.(preview);
  if (text) await files.reportPage?.(text);
}
