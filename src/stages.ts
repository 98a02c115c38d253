/** Every stage as a separate function. Input: planes, ndarrays or typed arrays. Output: planes. See `src/stages/README.md`. */
export type { FlatColour } from "./1-photo/flat-colours.js";
export {
  type Photo,
  type PhotoFacts,
  type PhotoFormat,
  photoFormats,
} from "./1-photo/photo.js";
export { type ResampleFilter, resampleFilters } from "./3-resample/filters.js";
export type { SourceWindow } from "./3-resample/source-window.js";
export type { HalftoneFamily } from "./4-halftone/method.js";
export type { AlongLimits, Detail, DetailLimit } from "./5-burn/detail.js";
export type { RunTime } from "./5-burn/run-time.js";
export type { VisualError } from "./5-burn/sampled-error.js";
export type { TonalResolution } from "./5-burn/tonal-resolution.js";
export type { ToneCurve } from "./5-burn/tone-curve.js";
export type { DoseUnit } from "./core/material/dose-unit.js";
export type { MaterialData } from "./core/material/material.js";
export { luminanceFactorAt, type Response, type ResponsePoints } from "./core/material/response.js";
export type { PixelRectangle } from "./core/pixel-rectangle.js";
export {
  type Bitmap,
  denseData,
  type Pitch,
  type Plane,
  type PlaneData,
  type ToneSpace,
} from "./core/plane.js";
export type { Spot } from "./core/spot.js";
export type { Spread } from "./core/spread.js";
export {
  type CompensateOptions,
  compensate,
  invertToneCurve,
  measureToneCurve,
  type ReachableTones,
  reachableTones,
  type ToneMapOptions,
  type WantedLuminanceOptions,
  wantedLuminance,
} from "./stages/compensate.js";
export { type DecodePhotoOptions, decodePhoto, inspectPhoto } from "./stages/decode.js";
export { type EncodeBitmapOptions, encodeBitmap } from "./stages/encode.js";
export {
  type DoseField,
  type ExposeOptions,
  type ExposureSamples,
  expose,
  exposureSamples,
} from "./stages/expose.js";
export { type HalftonePictureOptions, halftone } from "./stages/halftone.js";
export type { BeamOptions, GridOptions, HalftoneOptions, SurfaceOptions } from "./stages/job.js";
export {
  type DetailLimitsOptions,
  detailLimits,
  type RunTimeOptions,
  runTime,
  type TonalResolutionOptions,
  tonalResolution,
  type VisualErrorOptions,
  visualError,
} from "./stages/judge.js";
export { type HalftoneMethodFacts, halftoneMethods } from "./stages/methods.js";
export type { Picture, RawPicture } from "./stages/picture.js";
export { plane } from "./stages/plane.js";
export { type PredictOptions, predict } from "./stages/predict.js";
export {
  type FrameOptions,
  frameOnGrid,
  type GridFrame,
  type ResampleOptions,
  resample,
} from "./stages/resample.js";
export { type SearchBitmapOptions, searchBitmap } from "./stages/search.js";
export {
  addLocalContrast,
  adjustTones,
  type LocalContrastOptions,
  type SharpenOptions,
  sharpenForSpot,
  type ToneOptions,
} from "./stages/tone.js";
