import { looksLikeArtwork } from "../../1-photo/looks-like-artwork.js";
import { automaticLift } from "../../2-tone/backlight.js";
import type { CoarseGrid } from "../../2-tone/coarse-grid.js";
import { liftFromBare } from "../../2-tone/cut-out.js";
import { baseLightness, guidedBase } from "../../2-tone/guided-base.js";
import { AS_IS, stretchedRange } from "../../2-tone/input-range.js";
import { type Lift, liftOf, liftRow } from "../../2-tone/lift.js";
import { addLocalContrast, SURROUNDINGS_PX, surroundingsOf } from "../../2-tone/local-contrast.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../core/physics/lightness.js";
import { planeOfRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { RowChange } from "./cut-out-rows.js";
import { coverageRows, type PictureOnGrid, smallLuminance } from "./picture-rows.js";

/** A picture at low resolution, without the bare surface. */
interface SmallPicture extends CoarseGrid {
  readonly luminance: Float32Array;
  readonly coverage: Float32Array | undefined;
}

/** Whether the picture decides how much its dark parts are lifted. */
export const liftIsAutomatic = ({ lift, autoTone }: ResolvedOptions): boolean =>
  lift === undefined && autoTone;

/** The picture with what the steps that look at far neighbours need: the lift of dark parts, then local contrast. */
export function withSurroundings(picture: PictureOnGrid, options: ResolvedOptions): PictureOnGrid {
  const { localContrast, lift: asked = 0, negative } = options;
  if (localContrast === 0 && asked === 0 && !liftIsAutomatic(options)) return picture;
  const small = smallPicture(picture);
  const lift = liftFor(small, picture, options);
  if (localContrast === 0) return { ...picture, lift };
  const { luminance, coverage, columns, rows, closed } = small;
  if (lift) {
    for (let y = 0; y < rows; y++)
      liftRow(luminance.subarray(y * columns, (y + 1) * columns), y, rows, lift, negative);
  }
  return { ...picture, lift, surroundings: surroundingsOf(luminance, columns, rows, closed, coverage) };
}

function smallPicture(picture: PictureOnGrid): SmallPicture {
  const { placement, closed } = picture.frame;
  const scale = Math.min(1, SURROUNDINGS_PX / Math.max(placement.columns, placement.rows));
  const columns = Math.max(1, Math.round(placement.columns * scale));
  const rows = Math.max(1, Math.round(placement.rows * scale));
  const luminance = smallLuminance(picture, columns, rows);
  const opacity = coverageRows(picture, { columns, rows }, createKernelMemory());
  const coverage = opacity && planeOfRows(opacity, columns, rows);
  if (coverage) liftFromBare(luminance, coverage, picture.bare);
  return { columns, rows, closed, luminance, coverage };
}

/** Undefined if nothing is lifted. */
function liftFor(small: SmallPicture, picture: PictureOnGrid, options: ResolvedOptions): Lift | undefined {
  const scene = options.negative ? small.luminance.map(positive) : small.luminance;
  const weights = weightsOf(small, options.oval);
  const automatic = (): number => (isDrawn(picture) ? 0 : signOf(scene, small, weights, picture));
  const strength = options.lift ?? (options.autoTone ? automatic() : 0);
  if (strength === 0) return undefined;
  const lightness = scene.map(lightnessFromLuminance);
  const base = guidedBase(lightness, small, small.coverage);
  return liftOf(strength, base, weightedMean(baseLightness(base, lightness), weights));
}

/** Artwork has no light of its own: its dark parts were drawn dark. */
const isDrawn = ({ photo }: PictureOnGrid): boolean => photo.colours !== undefined || looksLikeArtwork(photo);

const positive = (luminance: number): number =>
  luminanceFromLightness(100 - lightnessFromLuminance(luminance));

/**
 * The strength that the scene seems to need, by its light as the camera saw it, before automatic levels. In a backlit photo the
 * background is light by itself, not because levels made it so.
 */
function signOf(
  scene: Float32Array,
  small: SmallPicture,
  weights: Float32Array,
  { ends }: PictureOnGrid,
): number {
  const { black, white } = ends ? stretchedRange(ends) : AS_IS;
  const seen = scene.map((luminance) => lightnessFromLuminance(black + luminance * (white - black)));
  return automaticLift(baseLightness(guidedBase(seen, small, small.coverage), seen), weights);
}

/** How much of each point is engraved: its coverage, and nothing outside an oval. */
function weightsOf({ columns, rows, coverage }: SmallPicture, oval: boolean): Float32Array {
  const weights = coverage?.slice() ?? new Float32Array(columns * rows).fill(1);
  if (!oval) return weights;
  return weights.map((weight, i) => {
    const across = ((i % columns) + 0.5) / columns - 0.5;
    const down = (Math.floor(i / columns) + 0.5) / rows - 0.5;
    return across ** 2 + down ** 2 < 0.25 ? weight : 0;
  });
}

function weightedMean(values: Float32Array, weights: Float32Array): number {
  let [sum, total] = [0, 0];
  values.forEach((value, i) => {
    sum += weights[i] * value;
    total += weights[i];
  });
  return total === 0 ? 0 : sum / total;
}

/** Changes a row of the picture alone: the lift, then local contrast. */
export function neighbourChange(
  { lift, surroundings, frame }: PictureOnGrid,
  { mirror, negative, localContrast }: ResolvedOptions,
): RowChange | undefined {
  if (!lift && !surroundings) return undefined;
  const { rows } = frame.placement;
  return (row, y) => {
    if (mirror) row.reverse();
    if (lift) liftRow(row, y, rows, lift, negative);
    if (surroundings) addLocalContrast(row, y, rows, surroundings, localContrast);
    if (mirror) row.reverse();
  };
}
