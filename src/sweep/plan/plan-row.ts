import type { Frame } from "../../3-resample/frame.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { RunTime } from "../../5-burn/run-time.js";
import type { DetailPicture } from "../../6-report/pictures/detail-picture.js";
import type { PlanRow, WorkKind } from "../../6-report/plan.js";
import { charRiskOf } from "../../core/material/char-risk.js";
import { gapMm } from "../../core/physics/coverage.js";
import { refusal } from "../../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { type DensityFacts, densityFacts } from "../../pipeline/describe/density-facts.js";
import { effectivePxPerMm } from "../../pipeline/describe/describe-piece.js";
import type { JudgedPiece } from "../../pipeline/made-piece.js";
import { type DecodedSource, makePiece, type PrepareContext } from "../../pipeline/make-piece.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import { lanePhoto } from "../lane-photo.js";
import type { LaneContext } from "../lanes.js";
import { tryDensity } from "./density-trial.js";
import { detailPictures } from "./detail-picture.js";
import { lookAtPicture, type PictureLook } from "./picture-look.js";
import { shadeSetting, solidRunTime, wantedLightness } from "./solid-row.js";
import { blankPicture, tonalTarget } from "./tonal-target.js";
import type { DensityTrial } from "./useful-tones.js";

/**
 * What a lane is asked: a row, only a trial of a density on the built-in picture, or a look at the picture. It can be sent to
 * another thread.
 */
export type PlanRequest =
  | { readonly row: RowRequest }
  | { readonly trial: PrepareOptions }
  | { readonly look: PrepareOptions };

export type PlanAnswer = RowAnswer | { readonly trial: DensityTrial } | { readonly look: PictureLook };

/** A request for one density of one lens. */
export interface RowRequest {
  readonly lens: number;
  readonly kind: WorkKind;
  /** With density and spot. Without a photo both sizes are given. */
  readonly options: PrepareOptions;
  readonly darkness: number;
  /** Measured width of a line; replaces the computed one. */
  readonly markMm: number | undefined;
}

/** The picture for the rows of a plan: one photo, or a built-in picture. */
export interface RowSource {
  readonly bytes: Uint8Array | undefined;
  readonly fileName: string;
  /** Whether to make a picture of a detail of each row. */
  readonly pictures?: boolean;
}

/** A row, and the picture that its page shows. */
export interface RowAnswer {
  readonly row: PlanRow;
  readonly picture?: DetailPicture;
}

/** The part of a row that depends on the kind of work. */
interface RowWork {
  readonly frame: Frame;
  readonly runTime: RunTime;
  readonly figures: Partial<PlanRow>;
  /** Doses of solid parts. Undefined if no tone was requested, or if it cannot be reached. */
  readonly burns: { readonly dose: number; readonly peakDose: number } | undefined;
  readonly judged?: JudgedPiece;
}

/** Answers requests one after another on the calling thread. */
export function planAnswers(
  source: RowSource,
  context: LaneContext,
): (request: PlanRequest) => Promise<PlanAnswer> {
  const { bytes, fileName } = source;
  const photoFor = bytes && lanePhoto(bytes, fileName);
  const sourceFor: SourceFor = (kind, options) =>
    photoFor ? photoFor(options) : builtInPicture(kind, options);
  const rowFor = rowsFrom(source, sourceFor, context);
  return async (request) => {
    if ("row" in request) return rowFor(request.row);
    if ("trial" in request) return { trial: await tryDensity(request.trial, context) };
    const options = resolveOptions(request.look);
    return { look: await lookAtPicture(await sourceFor("photo", options), options) };
  };
}

/** The picture of a row. */
type SourceFor = (kind: WorkKind, options: ResolvedOptions) => DecodedSource | Promise<DecodedSource>;

/** Computes rows: the figures that `prepare` reports at a density. */
function rowsFrom(
  { bytes, fileName, pictures }: RowSource,
  sourceFor: SourceFor,
  context: LaneContext,
): (request: RowRequest) => Promise<RowAnswer> {
  const detailOf = pictures ? detailPictures() : undefined;
  return async (request) => {
    const options = resolveOptions(request.options);
    const source = await sourceFor(request.kind, options);
    const { pitch, spot, material } = options;
    const density = densityFacts(pitch, spot, material, { passes: options.passes });
    const work =
      request.kind === "photo"
        ? await photoWork(source, request.options, density, { fileName, ...context })
        : await solidWork(source, request, options, density);
    const row = rowOf(request, options, work, { density, hasPhoto: bytes !== undefined });
    const picture = work.judged && (await detailOf?.(source, request.options, work.judged));
    return { row, ...(picture && { picture }) };
  };
}

function rowOf(
  { lens, markMm }: RowRequest,
  { pitch, spot, motion, material }: ResolvedOptions,
  { frame, runTime, figures, burns }: RowWork,
  { density, hasPhoto }: { readonly density: DensityFacts; readonly hasPhoto: boolean },
): PlanRow {
  const { solidDoseFactor, powerFactor, dotCoverage: _, levelsPerSpot: __, ...facts } = density;
  const charRisk = burns && charRiskOf(material.charDose, burns.dose, burns.peakDose);
  const pxPerMm = hasPhoto ? effectivePxPerMm(frame, { pitch }) : Number.POSITIVE_INFINITY;
  const { photoLpPerMm, ...detail } = detailLimits(pitch, spot, motion, pxPerMm);
  return {
    lens,
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    pitchMm: pitch.acrossMm,
    overdrive: spot.acrossMm / pitch.acrossMm,
    columns: frame.columns,
    rows: frame.rows,
    seconds: runTime.seconds,
    lines: runTime.lines,
    beamOnSeconds: runTime.beamOnSeconds,
    ...facts,
    ...(markMm !== undefined && { markWidthMm: markMm, markGapMm: gapMm(pitch.acrossMm, markMm) }),
    doseFactor: solidDoseFactor,
    powerFactor,
    ...(charRisk && { charRisk }),
    detail: hasPhoto ? { ...detail, photoLpPerMm } : detail,
    ...figures,
  };
}

/** Make a piece for its figures only. */
async function photoWork(
  source: DecodedSource,
  options: PrepareOptions,
  { peakDose }: DensityFacts,
  context: PrepareContext,
): Promise<RowWork> {
  const wishes = { files: {}, keepBitmap: false, wholeReport: false, aboutPhoto: false };
  const { judged } = await makePiece(source, options, wishes, context);
  if (!judged?.tones) throw refusal("nothing-predicted", {});
  const { picture, method, burned, tones, errors } = judged;
  const { nominal, varied, judgedShare } = errors;
  const figures = {
    method: method.id,
    tonalResolution: tones,
    visualErrorRms: nominal.rms,
    visualErrorBias: nominal.bias,
    expectedVisualError: varied.expected,
    unevenness: varied.unevenness,
    toneShift: varied.toneShift,
    judgedShare,
  };
  return { frame: picture.frame, runTime: burned.runTime, figures, burns: { dose: 1, peakDose }, judged };
}

/** Solid work uses only the size of a picture. */
async function solidWork(
  source: DecodedSource,
  { kind, darkness }: RowRequest,
  options: ResolvedOptions,
  { peakDose }: DensityFacts,
): Promise<RowWork> {
  const frame = frameOf(await source.photo, options);
  const lightness = wantedLightness(options.material, darkness);
  const shade = kind === "shade" ? shadeSetting(frame, options, lightness, peakDose) : undefined;
  return { frame, runTime: solidRunTime(frame, options), figures: shade ? { shade } : {}, burns: shade };
}

function builtInPicture(kind: WorkKind, { widthMm = 0, heightMm = 0, spot }: ResolvedOptions): DecodedSource {
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  return {
    photo: Promise.resolve(kind === "photo" ? tonalTarget(widthMm, heightMm, meanSpotMm) : blankPicture()),
  };
}
