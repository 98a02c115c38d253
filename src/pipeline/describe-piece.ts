import type { Photo } from "../1-photo/decode.js";
import type { Frame } from "../3-resample/frame.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import { detailLimits } from "../5-burn/detail.js";
import type { HalftoneFunction } from "../5-burn/flat-patch.js";
import { runTime } from "../5-burn/run-time.js";
import { patchLightness, type TonalResolution, tonalResolution } from "../5-burn/tonal-resolution.js";
import type { Report } from "../6-report/report.js";
import { warningsFor } from "../6-report/warnings.js";
import { generalCautions } from "../core/cautions.js";
import { addressableLevels, discAreaMm2, discCoverage, gapMm, lineOverlap } from "../core/coverage.js";
import { luminanceFromLightness } from "../core/lightness.js";
import type { ResolvedOptions } from "../core/options.js";
import { columnsOf, rowsOf } from "../core/plane.js";
import { lookUp } from "../core/tabulated.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { packageVersion } from "../core/version.js";
import type { Burner, BurnModel } from "./job.js";
import type { PiecePrediction } from "./predict-piece.js";

/** What happened to the photo on its way to a bitmap. */
export interface PieceFacts {
  readonly fileName: string;
  readonly source: Photo;
  readonly frame: Frame;
  readonly method: HalftoneMethod;
  readonly ranking: Report["methodRanking"];
  readonly compensated: boolean;
}

/** Tones that details of several sizes will carry, through this job's own way from photo to burn fraction. */
export function toneCounts(
  model: BurnModel,
  burner: Burner,
  halftone: HalftoneFunction,
  options: ResolvedOptions,
): TonalResolution[] {
  const fractions = patchLightness().map((lightness) =>
    lookUp(burner.burnFor, lookUp(model.target, luminanceFromLightness(lightness))),
  );
  return tonalResolution(fractions, halftone, model.plan, model.response, options.pitch, options.doseSpread);
}

export function describePiece(
  model: BurnModel,
  bits: Uint8Array,
  facts: PieceFacts,
  options: ResolvedOptions,
  prediction?: PiecePrediction,
  tones?: readonly TonalResolution[],
): Report {
  const { frame, source, method, ranking } = facts;
  const { pitch, spot, material } = options;
  const { columns, rows } = frame;
  const bitmapRow = (y: number): Uint8Array => bits.subarray(y * columns, (y + 1) * columns);
  const head = {
    speedMmPerS: options.speedMmPerS,
    accelerationMmPerS2: options.accelerationMmPerS2,
    stepTimeS: options.stepTimeS,
    oneWay: options.oneWay,
  };
  const { bestSpeedMmPerS, savedAtBestSpeed, ...time } = runTime(
    bitmapRow,
    columns,
    rows,
    pitch.alongMm,
    head,
  );
  const sourcePxPerMm = frame.window.width / (frame.placement.columns * pitch.alongMm);
  const doseFactor = material.referencePitchMm === undefined ? 1 : material.referencePitchMm / pitch.acrossMm;
  const report: Omit<Report, "warnings"> = {
    tool: { name: "spotpitch", version: packageVersion() },
    input: {
      file: facts.fileName,
      widthPx: columnsOf(source.luminance),
      heightPx: rowsOf(source.luminance),
      effectivePxPerMm: sourcePxPerMm,
    },
    job: {
      kind: options.kind,
      method: method.id,
      levels: options.levels,
      scan: options.scan,
      seed: options.seed,
      toneMap: options.toneMap,
      compensated: facts.compensated,
      autoTone: options.autoTone,
      mirror: options.mirror,
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
      columns,
      rows,
      pitchAlongMm: pitch.alongMm,
      pitchAcrossMm: pitch.acrossMm,
      linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
      spotAlongMm: spot.alongMm,
      spotAcrossMm: spot.acrossMm,
      overdrive: spot.acrossMm / pitch.acrossMm,
      matchedLinesPerInch: linesPerInchFromPitchMm(spot.acrossMm),
      material: material.name,
      materialSource: material.source,
      doseSpread: options.doseSpread,
      viewDistanceMm: options.viewDistanceMm,
    },
    coverage: {
      burnFraction: shareOfOnes(bits),
      gapMm: gapMm(pitch.acrossMm, spot.acrossMm),
      overlap: lineOverlap(pitch.acrossMm, spot.acrossMm),
      dotCoverage: discCoverage(Math.sqrt(spot.alongMm * spot.acrossMm), pitch.alongMm, pitch.acrossMm),
      solidDoseFactor: doseFactor,
      powerFactor: 1 / doseFactor,
      levelsPerSpot: addressableLevels(
        discAreaMm2(Math.sqrt(spot.alongMm * spot.acrossMm)),
        pitch.alongMm,
        pitch.acrossMm,
      ),
    },
    ...(prediction && {
      prediction: {
        darkestLuminance: model.range.darkest,
        lightestLuminance: model.range.lightest,
        visualErrorRms: prediction.nominal.rms,
        visualErrorBias: prediction.nominal.bias,
        expectedVisualError: prediction.expectedVisualError,
        uncompensatedVisualErrorRms: prediction.uncompensated.rms,
      },
    }),
    ...(tones && { tonalResolution: tones }),
    detail: detailLimits(pitch, spot, options.motion, sourcePxPerMm),
    runTime: time,
    ...(ranking && { methodRanking: ranking }),
    cautions: [...material.hazards, ...generalCautions],
  };
  const warnings = warningsFor(report, {
    materialShape: material.shape,
    darkens: model.response.darkens,
    methodKeepsMean: method.keepsMean,
    speedMmPerS: options.speedMmPerS,
    bestSpeedMmPerS,
    savedAtBestSpeed,
  });
  return { ...report, warnings };
}

function shareOfOnes(bits: Uint8Array): number {
  let ones = 0;
  for (let i = 0; i < bits.length; i++) ones += bits[i];
  return ones / bits.length;
}
