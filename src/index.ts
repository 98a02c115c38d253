/** The main entry of the library. Stages are in `spotpitch/stages`, closed forms in `spotpitch/physics`. */
export type { FlatColour } from "./1-photo/flat-colours.js";
export {
  type BegunPhoto,
  type Photo,
  type PhotoFacts,
  type PhotoFormat,
  photoFormats,
} from "./1-photo/photo.js";
export type { HalftoneFamily } from "./4-halftone/method.js";
export type { ToneCurve } from "./5-burn/tone-curve.js";
export type {
  Calibration,
  CalibrationBefore,
  CalibrationCard,
  CalibrationFigures,
  CalibrationPatch,
  CalibrationPicture,
  CalibrationSpread,
  CalibrationWarningCode,
  ChangedFigure,
  LearntFigure,
} from "./6-report/calibration.js";
export type {
  CardContents,
  CardGroup,
  CardGroupName,
  CardJob,
  ShownPattern,
  TestCard,
} from "./6-report/card.js";
export type {
  CheckCard,
  CheckCardJob,
  CheckedDose,
  CheckedPatch,
  CheckedStep,
  PromisedTone,
  ToneCheck,
} from "./6-report/check.js";
export type {
  Candidate,
  CandidateTint,
  ComparedChoice,
  Comparison,
  ForWinners,
  LeftOut,
} from "./6-report/comparison.js";
export type { ByteSink } from "./6-report/files/deflate.js";
export { testCardPage } from "./6-report/pages/card-page.js";
export { checkCardPage } from "./6-report/pages/check-card-page.js";
export { comparisonPage } from "./6-report/pages/comparison-page.js";
export { type PlanPageContext, planPage } from "./6-report/pages/plan-page.js";
export { powerTestPage } from "./6-report/pages/power-test-page.js";
export type { CandidatePictures, PartOfPiece } from "./6-report/pictures/candidate-pictures.js";
export type { RgbPicture } from "./6-report/pictures/canvas.js";
export { comparisonSheet } from "./6-report/pictures/comparison-sheet.js";
export type { DetailPicture } from "./6-report/pictures/detail-picture.js";
export type {
  Plan,
  PlanLimits,
  PlanNote,
  PlanNoteCode,
  PlannedLens,
  PlanRow,
  Recommendation,
  ShadeSetting,
  WorkKind,
} from "./6-report/plan.js";
export type { PowerTest } from "./6-report/power-test.js";
export type {
  PictureReport,
  PowerToSet,
  Report,
  ReportAround,
  ReportPlaced,
  ReportScreen,
  ReportTone,
  Warning,
  WarningCode,
} from "./6-report/report.js";
export { comparisonCsv } from "./6-report/words/comparison-columns.js";
export type { CheckPromise, CheckRecipe } from "./7-card/check-recipe.js";
export type { CardRecipe, MarkedCard } from "./7-card/recipe.js";
export type { CardDensityReason } from "./core/card-density.js";
export type { CardPattern } from "./core/card-pattern.js";
export {
  type ErrorCode,
  type ErrorDetails,
  exitStatus,
  type RefusalFacts,
  SpotpitchError,
} from "./core/errors.js";
export type { CharRisk } from "./core/material/char-risk.js";
export type { DoseUnit } from "./core/material/dose-unit.js";
export { findMaterial, type Material, type MaterialData, resolveMaterial } from "./core/material/material.js";
export type { MaterialDoubt } from "./core/material/material-doubts.js";
export { type MaterialPreset, materialPresets } from "./core/material/material-presets.js";
export type { Response, ResponsePoints } from "./core/material/response.js";
export type { Bitmap, Pitch, Plane, PlaneData, ToneSpace } from "./core/plane.js";
export type { FoundPower, GivenBy, Reader } from "./core/reader.js";
export type { ShownUnits } from "./core/shown-units.js";
export type { Spread } from "./core/spread.js";
export type { AccelerationUnit, SpeedUnit } from "./core/units.js";
export type { CalibrateOptions } from "./options/calibrate-options.js";
export type { CardOptions } from "./options/card-options.js";
export type { CheckCardOptions } from "./options/check-options.js";
export type { CompareOptions } from "./options/compare-options.js";
export { type Machine, type MachineData, type MachineFigures, resolveMachine } from "./options/machine.js";
export type { PrepareOptions } from "./options/options.js";
export type { PlanOptions } from "./options/plan-options.js";
export type { PowerTestOptions } from "./options/power-test-options.js";
export {
  type CalibrateContext,
  type Calibrated,
  type CardPicture,
  calibrate,
} from "./pipeline/calibration/calibrate.js";
export { type MadeTestCard, testCard } from "./pipeline/card.js";
export { type CheckCardContext, checkCard, type MadeCheckCard } from "./pipeline/check/check-card.js";
export { type CheckedTones, checkTones, type ToneCheckContext } from "./pipeline/check/check-tones.js";
export type { CurveStore, Table } from "./pipeline/kept-tables.js";
export type { OnProgress, PieceSinks, PrepareContext, Stage } from "./pipeline/make-piece.js";
export { type PowerTestPatch, powerTest } from "./pipeline/power-test.js";
export { type PreparedPiece, prepare, prepareTo } from "./pipeline/prepare.js";
export type { Finding, FindingCode, Grade, TriageFigures } from "./pipeline/triage/findings.js";
export { triagePhoto } from "./pipeline/triage/photo-file.js";
export type { Triage } from "./pipeline/triage/triage.js";
export { type HalftoneMethodFacts, halftoneMethods } from "./stages/methods.js";
export { type CompareContext, compare, type DoneCandidate } from "./sweep/compare/compare.js";
export type { LaneContext } from "./sweep/lanes.js";
export { type PlanContext, plan } from "./sweep/plan/plan.js";
