import type { Photo } from "../../1-photo/decode.js";
import type { Frame } from "../../3-resample/frame.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { TonalResolution } from "../../5-burn/tonal-resolution.js";
import type { Report } from "../../6-report/report.js";
import { warningsFor } from "../../6-report/words/warnings.js";
import { generalCautions } from "../../core/material/cautions.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { BurnRule } from "../burn/burn-rule.js";
import type { BurnedBitmap } from "../burn/burn-stage.js";
import type { SettledJob } from "../job.js";
import type { PieceErrors } from "../judge/judge-piece.js";
import type { LevelSteps, OnOff } from "../judge/level-facts.js";
import { describeAround } from "../photo/around.js";
import type { SeamStep } from "../photo/seam.js";
import type { SettledKind } from "../photo/settle-kind.js";
import { densityFacts } from "./density-facts.js";
import { describePicture, shownShare } from "./describe-picture.js";

/** A piece that has been made, and what was found out about it. */
export interface MadePiece {
  readonly job: SettledJob;
  readonly fileName: string;
  readonly source: Photo;
  readonly frame: Frame;
  readonly kind: Pick<SettledKind, "guessed" | "looksLikeArtwork">;
  readonly method: HalftoneMethod;
  readonly ranking: Report["methodRanking"];
  readonly rule: BurnRule;
  /** Where edges were placed. */
  readonly edges: Report["edges"];
  readonly burned: BurnedBitmap;
  readonly negativeIdle: boolean;
  /** Not with `bitmapOnly`. */
  readonly errors?: PieceErrors;
  /** Of a photograph that is not `bitmapOnly`. */
  readonly tones?: readonly TonalResolution[];
  /** With more than two power levels. */
  readonly steps?: LevelSteps;
  readonly onOff?: OnOff;
  /** Of a picture that goes all the way round. */
  readonly seam?: SeamStep | undefined;
}

export function describePiece(piece: MadePiece): Report {
  const { job, frame, source, ranking, burned, errors, tones, edges } = piece;
  const { options } = job;
  const { pitch, spot, material } = options;
  const { savedAtQuickestSpeed: _, ...runTime } = burned.runTime;
  const sourcePxPerMm = effectivePxPerMm(frame, options);
  const prediction = errors && describePrediction(job, errors);
  const report: Omit<Report, "warnings"> = {
    tool: { name: "spotpitch", version: packageVersion() },
    input: {
      file: piece.fileName,
      widthPx: columnsOf(source.luminance),
      heightPx: rowsOf(source.luminance),
      effectivePxPerMm: sourcePxPerMm,
      shownShare: shownShare(source, frame, options),
    },
    job: describeJob(piece),
    coverage: {
      burnFraction: burned.fullPowerPx / (frame.columns * frame.rows),
      ...densityFacts(pitch, spot, material, options.levels),
    },
    ...(prediction && { prediction }),
    ...(tones && { tonalResolution: tones }),
    detail: detailLimits(pitch, spot, options.motion, sourcePxPerMm),
    runTime,
    ...(ranking && { methodRanking: ranking }),
    ...describeLevels(piece),
    ...(edges && { edges }),
    cautions: [...material.hazards, ...generalCautions],
  };
  return { ...report, warnings: warningsFor(report, warningFacts(piece)) };
}

function describeJob({ job, frame, source, kind, method, edges, rule, seam }: MadePiece): Report["job"] {
  const { options } = job;
  const { pitch, spot, material } = options;
  const around = describeAround(frame, method.id, seam, options);
  return {
    kind: options.kind,
    kindGuessed: kind.guessed,
    method: edges ? "none" : method.id,
    levels: options.levels,
    scan: options.scan,
    seed: options.seed,
    toneMap: options.toneMap,
    compensated: rule.compensated || edges !== undefined,
    autoTone: options.autoTone,
    mirror: options.mirror,
    negative: options.negative,
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
    columns: frame.columns,
    rows: frame.rows,
    pitchAlongMm: pitch.alongMm,
    pitchAcrossMm: pitch.acrossMm,
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    ...(around && { around }),
    spotAlongMm: spot.alongMm,
    spotAcrossMm: spot.acrossMm,
    overdrive: spot.acrossMm / pitch.acrossMm,
    matchedLinesPerInch: linesPerInchFromPitchMm(spot.acrossMm),
    material: material.name,
    materialSource: material.source,
    doseSpread: options.doseSpread,
    viewDistanceMm: options.viewDistanceMm,
    ...describePicture(source, options),
  };
}

/** Only where the piece was judged without compensation too. */
function describePrediction(
  { model }: SettledJob,
  { nominal, uncompensated, ...errors }: PieceErrors,
): Report["prediction"] {
  if (!uncompensated) return undefined;
  return {
    darkestLuminance: model.range.darkest,
    lightestLuminance: model.range.lightest,
    visualErrorRms: nominal.rms,
    visualErrorBias: nominal.bias,
    expectedVisualError: errors.expectedVisualError,
    uncompensatedVisualErrorRms: uncompensated.rms,
    judgedShare: errors.judgedShare,
    visualErrorRmsStandardError: nominal.rmsStandardError,
  };
}

function describeLevels({ steps, onOff, burned, frame }: MadePiece): Pick<Report, "powerLevels"> {
  if (!steps) return {};
  return {
    powerLevels: {
      beamOnFraction: burned.burnedPx / (frame.columns * frame.rows),
      ...steps,
      ...(onOff && {
        onOff: onOff.tones.map(({ detailMm, nominal, held }) => ({ detailMm, nominal, held })),
        onOffMethod: onOff.method,
      }),
    },
  };
}

function warningFacts({ job, source, kind, method, burned, negativeIdle }: MadePiece) {
  const { model, options } = job;
  const { material, motion, levels, speedMmPerS } = options;
  return {
    materialDoubts: material.doubts,
    materialShape: material.shape,
    charDose: material.charDose,
    darkens: model.response.darkens,
    methodKeepsMean: method.keepsMean || (method.family === "threshold" && levels > 2),
    looksLikeArtwork: kind.looksLikeArtwork,
    looksDamaged: source.looksDamaged,
    negativeIdle,
    speedMmPerS,
    lineShiftMm: motion.oneWay ? 0 : motion.lineShiftMm,
    savedAtQuickestSpeed: burned.runTime.savedAtQuickestSpeed,
  };
}

/** Photo pixels per mm of engraved width. */
export function effectivePxPerMm(
  { window, placement, sheet }: Frame,
  { pitch }: Pick<ResolvedOptions, "pitch">,
): number {
  if (sheet) return sheet.pxPerMmAlong;
  return window.width / (placement.columns * pitch.alongMm);
}
