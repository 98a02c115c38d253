export { type BegunPhoto, decodePhoto, inspectPhoto, type Photo, type PhotoFacts } from "./1-photo/decode.js";
export type { ToneAdjustments } from "./2-tone/adjustments.js";
export { fadeRow, type SurfaceLightness } from "./2-tone/fade.js";
export { automaticRange, type InputRange } from "./2-tone/input-range.js";
export { addLocalContrast, type Surroundings, surroundingsOf } from "./2-tone/local-contrast.js";
export { sharpenedRows } from "./2-tone/sharpen.js";
export { toneTable } from "./2-tone/tone-table.js";
export { cropRectangle, focusWithin, type PixelPoint } from "./3-resample/crop.js";
export { type ResampleFilter, resampleFilters } from "./3-resample/filters.js";
export { type Fit, type Frame, type FrameRequest, frameJob, type SourceWindow } from "./3-resample/frame.js";
export { type Outline, outlineRows } from "./3-resample/outline.js";
export { resample, resampledRows } from "./3-resample/resample.js";
export { type ArtworkField, type PlacedEdges, placeEdges } from "./4-artwork/place-edges.js";
export type { ThinParts } from "./4-artwork/thin-parts.js";
export { halftoneMethods } from "./4-halftone/catalogue.js";
export { findHalftoneMethod, halftone } from "./4-halftone/halftone.js";
export { createHalftoneStream, type HalftoneStream } from "./4-halftone/halftone-stream.js";
export type {
  BandHalftone,
  HalftoneMethod,
  HalftoneSettings,
  Scan,
} from "./4-halftone/method.js";
export { voidAndCluster } from "./4-halftone/void-and-cluster.js";
export { type BorderWidth, borderWidths } from "./5-burn/border-width.js";
export { compensatedRows, uncompensatedBurn } from "./5-burn/compensate.js";
export { curveFractions } from "./5-burn/curve-fractions.js";
export { type Detail, detailLimits } from "./5-burn/detail.js";
export { measureEdgePlacement } from "./5-burn/edge-placement.js";
export { exposeRows } from "./5-burn/exposure.js";
export { type ExposurePlan, planExposure } from "./5-burn/exposure-plan.js";
export type { Viewing } from "./5-burn/eye-filter.js";
export { halfResponseDose } from "./5-burn/half-response.js";
export { predictLuminance } from "./5-burn/predict.js";
export { createRunTimer, type RunTime, runTime } from "./5-burn/run-time.js";
export { reachableTones, solidLuminance } from "./5-burn/solid-fill.js";
export { createSurfaceModel } from "./5-burn/surface-model.js";
export { createTarget, type ToneMap, type ToneRange } from "./5-burn/target.js";
export { type TonalResolution, tonalResolution } from "./5-burn/tonal-resolution.js";
export { invertToneCurve, measureToneCurve, type ToneCurve } from "./5-burn/tone-curve.js";
export { type VisualError, visualErrors } from "./5-burn/visual-error.js";
export type { Candidate, Comparison } from "./6-report/comparison.js";
export { type BitmapFormat, encodeBitmap } from "./6-report/files/bitmap-file.js";
export { comparisonPage } from "./6-report/pages/comparison-page.js";
export { planPage } from "./6-report/pages/plan-page.js";
export type { CandidatePictures } from "./6-report/pictures/candidate-pictures.js";
export { comparisonSheet } from "./6-report/pictures/comparison-sheet.js";
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
export type { Report, Warning, WarningCode } from "./6-report/report.js";
export { comparisonCsv } from "./6-report/words/comparison-columns.js";
export { contactSheet } from "./batch/contact-sheet.js";
export { drawingDanger, isCompressed } from "./batch/drawing-dangers.js";
export {
  type PieceFigures,
  type PieceVerdict,
  preparedEntry,
  refusedEntry,
  type UploadEntry,
} from "./batch/entry.js";
export { defaultLimits, type UploadLimits } from "./batch/limits.js";
export { jobMemoryNeed, memoryNeed } from "./batch/memory-need.js";
export { findingsOf } from "./batch/outcome.js";
export { DEFAULT_PATTERN, distinctPaths, outputPath, patternFault } from "./batch/output-names.js";
export { thumbnail } from "./batch/thumbnail.js";
export { type Grade, gradeOf, type TriageFigures } from "./batch/triage/findings.js";
export { type Triage, triagePhoto } from "./batch/triage/triage.js";
export type { Finding, FindingCode } from "./batch/triage/words.js";
export type { EdgePlacement } from "./core/edge-placement.js";
export { type ErrorCode, exitStatus, SpotpitchError } from "./core/errors.js";
export { findMaterial, type Material, type MaterialData, resolveMaterial } from "./core/material/material.js";
export { type MaterialPreset, materialPresets } from "./core/material/material-presets.js";
export {
  createResponse,
  luminanceFactorAt,
  type Response,
  type ResponsePoints,
} from "./core/material/response.js";
export * from "./core/physics/coverage.js";
export * from "./core/physics/lens.js";
export * from "./core/physics/lightness.js";
export * from "./core/physics/line-dose.js";
export * from "./core/physics/modulation.js";
export * from "./core/physics/optics.js";
export * from "./core/physics/raster-timing.js";
export * from "./core/physics/transfer.js";
export type { Crop, Focus } from "./core/picture-places.js";
export type { PixelRectangle } from "./core/pixel-rectangle.js";
export { type Bitmap, denseData, type Pitch, type Plane, plane, type ToneSpace } from "./core/plane.js";
export { type Random, seededRandom } from "./core/random.js";
export { libraryReader, type Reader } from "./core/reader.js";
export { sayRefusal } from "./core/refusals/refusals.js";
export type { BeamMotion, Spot } from "./core/spot.js";
export { lookUp, type Tabulated, tabulate } from "./core/tabulated.js";
export * from "./core/units.js";
export type { CompareOptions } from "./options/compare-options.js";
export { type PrepareOptions, type ResolvedOptions, resolveOptions } from "./options/options.js";
export type { PlanOptions } from "./options/plan-options.js";
export { parseLengthMm, parsePitchMm, parseSpot } from "./options/quantities.js";
export type { CurveStore, Table } from "./pipeline/kept-tables.js";
export type { PieceSinks, PrepareContext, Stage } from "./pipeline/make-piece.js";
export { type PreparedPiece, prepare, prepareTo } from "./pipeline/prepare.js";
export { type CompareContext, compare } from "./sweep/compare/compare.js";
export { type PlanContext, plan } from "./sweep/plan/plan.js";
