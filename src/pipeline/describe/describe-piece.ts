import { hasSeveralInks } from "../../1-photo/flat-colours.js";
import type { Frame } from "../../3-resample/frame.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { Report, ReportTone } from "../../6-report/report.js";
import { type WarningFacts, warningsFor } from "../../6-report/words/warnings.js";
import { generalCautions } from "../../core/material/cautions.js";
import { VIEW_LUMINANCE_CD_PER_M2 } from "../../core/physics/modulation.js";
import { columnsOf, rowsOf } from "../../core/plane.js";
import type { GivenBy, Reader } from "../../core/reader.js";
import { doseSpreadOf } from "../../core/spread.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { SettledJob } from "../job.js";
import type { PieceErrors } from "../judge/judge-piece.js";
import { mergedColours } from "../judge/merged-colours.js";
import type { MadePiece } from "../made-piece.js";
import { describeAround } from "../photo/around.js";
import { liftIsAutomatic } from "../photo/surroundings.js";
import { densityFacts } from "./density-facts.js";
import { describeExtrapolation } from "./describe-extrapolation.js";
import { describePicture, shownShare } from "./describe-picture.js";
import { describeScreen, screenFacts } from "./describe-screen.js";
import { idleOptions } from "./idle-options.js";
import { powerToSet } from "./power-to-set.js";

export function describePiece(piece: MadePiece): Report {
  const { job, picture, source, ranking, burned, errors, fidelity, tones, edges } = piece;
  const { options } = job;
  const { frame } = picture;
  const { pitch, spot, material } = options;
  const { savedAtQuickestSpeed: _, ...runTime } = burned.runTime;
  const sourcePxPerMm = effectivePxPerMm(frame, options);
  const prediction = errors && describePrediction(job, errors);
  const report: Omit<Report, "warnings"> = {
    tool: { name: "spotpitch", version: packageVersion() },
    units: piece.reader.units,
    input: {
      file: piece.fileName,
      widthPx: columnsOf(source.luminance),
      heightPx: rowsOf(source.luminance),
      effectivePxPerMm: sourcePxPerMm,
      shownShare: shownShare(source, frame, options),
      ...(source.opacity && { transparent: true }),
    },
    job: describeJob(piece),
    ...(!piece.drawing && { tone: describeTone(piece) }),
    coverage: {
      burnFraction: burned.fullPowerPx / (frame.columns * frame.rows),
      ...densityFacts(pitch, spot, material, options),
    },
    power: powerToSet({ ...options, pitchMm: pitch.acrossMm }, piece.reader),
    ...(prediction && { prediction }),
    ...(fidelity && { fidelity: fidelity.report }),
    ...(tones && { tonalResolution: tones }),
    detail: detailLimits(pitch, spot, options.motion, sourcePxPerMm),
    runTime,
    ...(ranking && { methodRanking: ranking }),
    ...describeLevels(piece),
    ...(edges && { edges }),
    cautions: [...material.hazards, ...generalCautions],
  };
  return { ...report, warnings: warningsFor(report, warningFacts(piece), piece.reader) };
}

function describeJob(piece: MadePiece): Report["job"] {
  const { job, picture, source, kind, method, edges, rule, seam } = piece;
  const { frame } = picture;
  const { levels, scan, seed, toneMap, autoTone, mirror, negative, pitch, spot, material } = job.options;
  const { widthMm, heightMm, columns, rows } = frame;
  const around = describeAround(job, frame, method.id, seam);
  const screen = describeScreen(piece);
  return {
    kind: job.options.kind,
    kindGuessed: kind.guessed,
    ...describeHalftone(piece),
    ...{ levels, scan, seed, toneMap },
    compensated: rule.compensated || edges !== undefined,
    ...{ autoTone, mirror, negative, widthMm, heightMm, columns, rows },
    pitchAlongMm: pitch.alongMm,
    pitchAcrossMm: pitch.acrossMm,
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    passes: job.options.passes,
    ...(screen && { screen }),
    ...(around && { around }),
    spotAlongMm: spot.alongMm,
    spotAcrossMm: spot.acrossMm,
    ...describeFocus(job.options),
    overdrive: spot.acrossMm / pitch.acrossMm,
    matchedLinesPerInch: linesPerInchFromPitchMm(spot.acrossMm),
    material: material.name,
    materialSource: material.source,
    doseSpread: doseSpreadOf(job.options.spread),
    spread: job.options.spread,
    variationModel: "four-part",
    viewDistanceMm: job.options.viewDistanceMm,
    viewLuminanceCdM2: VIEW_LUMINANCE_CD_PER_M2,
    assumed: job.options.assumed,
    ...givenIn(piece.reader),
    ...describePicture(source, job.options),
  };
}

function describeHalftone({
  job,
  method,
  edges,
  searched,
}: MadePiece): Pick<Report["job"], "method" | "search"> {
  if (edges) return { method: "none" };
  if (!searched) return { method: method.id };
  const { aim, passes, lastChanged, settled } = searched;
  const { startBitmap } = job.options;
  const file = startBitmap && (startBitmap instanceof Uint8Array ? "given" : startBitmap.fileName);
  const search = { aim, start: method.id, passes, lastChanged, settled, ...(file && { startBitmap: file }) };
  return { method: "burn-search", search };
}

/** Where the user gave the machine's figures, if any were given. */
export const givenIn = ({ givenBy = {} }: Reader): { readonly givenBy?: GivenBy } =>
  Object.keys(givenBy).length === 0 ? {} : { givenBy };

function describeFocus({ outOfFocus }: ResolvedOptions): Pick<Report["job"], "outOfFocus"> {
  if (!outOfFocus) return {};
  const { defocusMm, focusSpot } = outOfFocus;
  return {
    outOfFocus: {
      defocusMm,
      focusSpotAlongMm: focusSpot.alongMm,
      focusSpotAcrossMm: focusSpot.acrossMm,
    },
  };
}

function describeTone({ job, picture: { ends, lift } }: MadePiece): ReportTone {
  return {
    ...(ends && { darkest255: 255 * ends.darkest, lightest255: 255 * ends.lightest }),
    lift: lift?.strength ?? 0,
    liftAutomatic: liftIsAutomatic(job.options),
  };
}

/** Only if the piece was judged without compensation too. */
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
    expectedVisualError: errors.varied.expected,
    unevenness: errors.varied.unevenness,
    toneShift: errors.varied.toneShift,
    variation: errors.varied.parts,
    uncompensatedVisualErrorRms: uncompensated.rms,
    judgedShare: errors.judgedShare,
    visualErrorRmsStandardError: nominal.rmsStandardError,
  };
}

function describeLevels({ steps, onOff, burned, picture }: MadePiece): Pick<Report, "powerLevels"> {
  if (!steps) return {};
  const { columns, rows } = picture.frame;
  return {
    powerLevels: {
      beamOnFraction: burned.burnedPx / (columns * rows),
      ...steps,
      ...(onOff && {
        onOff: onOff.tones.map(({ detailMm, nominal, held }) => ({ detailMm, nominal, held })),
        onOffMethod: onOff.method,
      }),
    },
  };
}

function warningFacts(piece: MadePiece): WarningFacts {
  const { job, source, picture, drawing, kind, method, burned } = piece;
  const { model, options } = job;
  const { material, motion, levels, speedMmPerS } = options;
  return {
    materialDoubts: material.doubts,
    materialShape: material.shape,
    toneRange: material.toneRange,
    extrapolation: describeExtrapolation(piece),
    screen: screenFacts(piece),
    charDose: material.charDose,
    darkens: model.response.darkens,
    methodKeepsMean: method.keepsMean || (method.family === "threshold" && levels > 2),
    looksLikeArtwork: kind.looksLikeArtwork,
    severalInks: hasSeveralInks(picture.photo.colours),
    adjustsTones: options.brightness !== 0 || options.contrast !== 0 || options.gamma !== 1,
    findings: piece.findings,
    mergedColours: mergedColours(job, picture),
    hasTransparency: picture.photo.opacity !== undefined,
    looksDamaged: source.looksDamaged,
    sourceBits: source.sourceBits,
    negativeIdle: drawing?.negativeIdle ?? false,
    idleOptions: idleOptions(options.conditional, options, piece.edges ? [] : method.uses, {
      search: piece.searched !== undefined,
    }),
    speedMmPerS,
    firingLossUs: motion.firingLossUs,
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
