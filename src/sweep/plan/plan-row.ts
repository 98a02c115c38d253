import type { Frame } from "../../3-resample/frame.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { RunTime } from "../../5-burn/run-time.js";
import type { PlanRow, WorkKind } from "../../6-report/plan.js";
import { charRiskOf } from "../../core/material/char-risk.js";
import { gapMm } from "../../core/physics/coverage.js";
import { refusal } from "../../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { type DensityFacts, densityFacts } from "../../pipeline/describe/density-facts.js";
import { effectivePxPerMm } from "../../pipeline/describe/describe-piece.js";
import { type DecodedSource, makePiece, type PrepareContext } from "../../pipeline/make-piece.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import { lanePhoto } from "../lane-photo.js";
import type { LaneContext } from "../lanes.js";
import { shadeSetting, solidRunTime, wantedLightness } from "./solid-row.js";
import { blankPicture, tonalTarget } from "./tonal-target.js";

/** A request for one density of one lens. It can be sent to another thread. */
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
}

/** The part of a row that depends on the kind of work. */
interface RowWork {
  readonly frame: Frame;
  readonly runTime: RunTime;
  readonly figures: Partial<PlanRow>;
  /** Doses of solid parts. Undefined if no tone was requested, or if it cannot be reached. */
  readonly burns: { readonly dose: number; readonly peakDose: number } | undefined;
}

/** Computes rows one after another on the calling thread: the figures that `prepare` reports at a density. */
export function rowsFrom(
  { bytes, fileName }: RowSource,
  context: LaneContext,
): (request: RowRequest) => Promise<PlanRow> {
  const photoFor = bytes && lanePhoto(bytes, fileName);
  return async (request) => {
    const options = resolveOptions(request.options);
    const source = photoFor ? await photoFor(options) : builtInPicture(request.kind, options);
    const { pitch, spot, material } = options;
    const density = densityFacts(pitch, spot, material);
    const work =
      request.kind === "photo"
        ? await photoWork(source, request.options, density, { fileName, ...context })
        : await solidWork(source, request, options, density);
    return rowOf(request, options, work, { density, hasPhoto: bytes !== undefined });
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
  return { frame: picture.frame, runTime: burned.runTime, figures, burns: { dose: 1, peakDose } };
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
