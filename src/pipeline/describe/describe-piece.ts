import type { Photo } from "../../1-photo/decode.js";
import type { Frame } from "../../3-resample/frame.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { TonalResolution } from "../../5-burn/tonal-resolution.js";
import type { Report } from "../../6-report/report.js";
import { warningsFor } from "../../6-report/words/warnings.js";
import { generalCautions } from "../../core/material/cautions.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { Reader } from "../../core/reader.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import type { ResolvedOptions, SettledOptions } from "../../options/options.js";
import type { BurnedPiece } from "../burn/burn-stage.js";
import type { BurnModel } from "../job.js";
import type { PieceErrors } from "../judge/judge-piece.js";
import type { LevelSteps, OnOff } from "../judge/level-facts.js";
import { describeAround } from "../photo/around.js";
import type { SeamStep } from "../photo/seam.js";
import type { SettledKind } from "../photo/settle-kind.js";
import { densityFacts } from "./density-facts.js";
import { describePicture, shownShare } from "./describe-picture.js";

/** What happened to the photo on its way to a bitmap. */
export interface PieceFacts {
  readonly fileName: string;
  /** Who reads the warnings. */
  readonly reader: Reader | undefined;
  readonly source: Photo;
  readonly frame: Frame;
  readonly kind: Pick<SettledKind, "guessed" | "looksLikeArtwork">;
  readonly method: HalftoneMethod;
  readonly ranking: Report["methodRanking"];
  readonly compensated: boolean;
  /** Where edges were placed. */
  readonly edges: Report["edges"];
  readonly burned: BurnedPiece;
  /** With more than two power levels. */
  readonly steps: LevelSteps | undefined;
  readonly onOff?: OnOff | undefined;
  /** Of a picture that goes all the way round. */
  readonly seam: SeamStep | undefined;
  readonly negativeIdle: boolean;
}

export function describePiece(
  model: BurnModel,
  facts: PieceFacts,
  options: SettledOptions,
  errors?: PieceErrors,
  tones?: readonly TonalResolution[],
): Report {
  const { frame, source, method, ranking, burned } = facts;
  const { pitch, spot, material } = options;
  const { columns, rows } = frame;
  const { savedAtQuickestSpeed, ...time } = burned.runTime;
  const around = describeAround(frame, method.id, facts.seam, options);
  const sourcePxPerMm = effectivePxPerMm(frame, options);
  const report: Omit<Report, "warnings"> = {
    tool: { name: "spotpitch", version: packageVersion() },
    input: {
      file: facts.fileName,
      widthPx: columnsOf(source.luminance),
      heightPx: rowsOf(source.luminance),
      effectivePxPerMm: sourcePxPerMm,
      shownShare: shownShare(source, frame, options),
    },
    job: {
      kind: options.kind,
      kindGuessed: facts.kind.guessed,
      method: facts.edges ? "none" : method.id,
      levels: options.levels,
      scan: options.scan,
      seed: options.seed,
      toneMap: options.toneMap,
      compensated: facts.compensated,
      autoTone: options.autoTone,
      mirror: options.mirror,
      negative: options.negative,
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
      columns,
      rows,
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
    },
    coverage: {
      burnFraction: burned.fullPowerPx / (columns * rows),
      ...densityFacts(pitch, spot, material, options.levels),
    },
    ...(errors && {
      prediction: {
        darkestLuminance: model.range.darkest,
        lightestLuminance: model.range.lightest,
        visualErrorRms: errors.nominal.rms,
        visualErrorBias: errors.nominal.bias,
        expectedVisualError: errors.expectedVisualError,
        uncompensatedVisualErrorRms: errors.uncompensated.rms,
        judgedShare: errors.judgedShare,
        visualErrorRmsStandardError: errors.nominal.rmsStandardError,
      },
    }),
    ...(tones && { tonalResolution: tones }),
    detail: detailLimits(pitch, spot, options.motion, sourcePxPerMm),
    runTime: time,
    ...(ranking && { methodRanking: ranking }),
    ...(facts.steps && {
      powerLevels: {
        beamOnFraction: burned.burnedPx / (columns * rows),
        ...facts.steps,
        ...(facts.onOff && {
          onOff: facts.onOff.tones.map(({ detailMm, nominal, held }) => ({ detailMm, nominal, held })),
          onOffMethod: facts.onOff.method,
        }),
      },
    }),
    ...(facts.edges && { edges: facts.edges }),
    cautions: [...material.hazards, ...generalCautions],
  };
  const warningFacts = {
    materialDoubts: material.doubts,
    materialShape: material.shape,
    charDose: material.charDose,
    darkens: model.response.darkens,
    methodKeepsMean: method.keepsMean || (method.family === "threshold" && options.levels > 2),
    looksLikeArtwork: facts.kind.looksLikeArtwork,
    looksDamaged: source.looksDamaged,
    negativeIdle: facts.negativeIdle,
    speedMmPerS: options.speedMmPerS,
    lineShiftMm: options.motion.oneWay ? 0 : options.motion.lineShiftMm,
    savedAtQuickestSpeed,
  };
  return { ...report, warnings: warningsFor(report, warningFacts, facts.reader) };
}

/** Photo pixels per mm of engraved width. */
export function effectivePxPerMm({ window, placement, sheet }: Frame, { pitch }: ResolvedOptions): number {
  if (sheet) return sheet.pxPerMmAlong;
  return window.width / (placement.columns * pitch.alongMm);
}
