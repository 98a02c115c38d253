import { lightnessFromLuminance } from "../core/lightness.js";
import type { Pitch } from "../core/plane.js";
import { EyeFilter, type Viewing } from "./eye-filter.js";

/** Difference that an eye would see between a predicted and a wanted piece, in L* (section 6). About 1 is just noticeable. */
export interface VisualError {
  readonly rms: number;
  /** Mean of predicted minus wanted. */
  readonly bias: number;
}

/** Border left out of the mean, where there is room for it: the spot finds no neighbours there. */
export const ERROR_MARGIN_PX = 16;

/** Padding around each tile, of real picture where there is some and of its mirror image beyond the edge. */
const HALO_PX = 64;
const LARGEST_TILE_PX = 1024;

/**
 * Visual error of several predictions against one target: all filtered by the eye, turned to L*, differenced. Pictures are
 * continued beyond their edges by their mirror images. Large pictures go tile by tile with a halo; what lies beyond the
 * halo reaches a point only through the eye's faint far glare, in prediction and target alike.
 *
 * @param predictions planes of rows × columns luminance factors
 * @param target wanted luminance factors, same shape
 */
export function visualErrors(
  predictions: readonly Float32Array[],
  target: Float32Array,
  columns: number,
  rows: number,
  pitch: Pitch,
  viewing: Viewing,
): VisualError[] {
  const marginPx = Math.max(0, Math.min(ERROR_MARGIN_PX, Math.floor((Math.min(columns, rows) - 1) / 2)));
  const sidePx = tileSide(Math.max(columns, rows) - 2 * marginPx);
  const corePx = sidePx - 2 * HALO_PX;
  const eye = new EyeFilter(sidePx, pitch, viewing);
  const pair = new Float64Array(2 * sidePx * sidePx);
  const wantedLightness = new Float64Array(corePx * corePx);
  const sums = predictions.map(() => ({ squares: 0, differences: 0 }));

  for (let top = marginPx; top < rows - marginPx; top += corePx) {
    const coreRows = Math.min(corePx, rows - marginPx - top);
    for (let left = marginPx; left < columns - marginPx; left += corePx) {
      const coreColumns = Math.min(corePx, columns - marginPx - left);
      const eachInner = (visit: (at: number, inner: number) => void): void => {
        for (let y = 0; y < coreRows; y++) {
          for (let x = 0; x < coreColumns; x++) {
            visit(2 * ((y + HALO_PX) * sidePx + x + HALO_PX), y * corePx + x);
          }
        }
      };
      const add = (k: number, predicted: number, wanted: number): void => {
        const difference = lightnessFromLuminance(Math.max(0, predicted)) - wanted;
        sums[k].squares += difference * difference;
        sums[k].differences += difference;
      };
      const load = (plane: Float32Array, part: 0 | 1): void =>
        loadMirrored(plane, columns, rows, left - HALO_PX, top - HALO_PX, pair, part, sidePx);

      load(target, 0);
      load(predictions[0], 1);
      eye.filterPair(pair);
      eachInner((at, inner) => {
        wantedLightness[inner] = lightnessFromLuminance(Math.max(0, pair[at]));
        add(0, pair[at + 1], wantedLightness[inner]);
      });
      for (let k = 1; k < predictions.length; k += 2) {
        load(predictions[k], 0);
        load(predictions[Math.min(k + 1, predictions.length - 1)], 1);
        eye.filterPair(pair);
        eachInner((at, inner) => {
          add(k, pair[at], wantedLightness[inner]);
          if (k + 1 < predictions.length) add(k + 1, pair[at + 1], wantedLightness[inner]);
        });
      }
    }
  }
  const count = (columns - 2 * marginPx) * (rows - 2 * marginPx);
  return sums.map(({ squares, differences }) => ({
    rms: Math.sqrt(squares / count),
    bias: differences / count,
  }));
}

/** Smallest power of two that holds the picture and its halo, up to the largest tile. */
function tileSide(lengthPx: number): number {
  const wanted = Math.max(4 * HALO_PX, lengthPx + 2 * HALO_PX);
  return Math.min(LARGEST_TILE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

/** Copy a square of the plane whose corner is (left, top) into one part of the complex pair, mirrored beyond the edges. */
function loadMirrored(
  plane: Float32Array,
  columns: number,
  rows: number,
  left: number,
  top: number,
  pair: Float64Array,
  part: 0 | 1,
  sidePx: number,
): void {
  for (let y = 0; y < sidePx; y++) {
    const row = mirror(top + y, rows) * columns;
    for (let x = 0, at = 2 * y * sidePx + part; x < sidePx; x++, at += 2) {
      pair[at] = plane[row + mirror(left + x, columns)];
    }
  }
}

/** Index within 0..length−1 of the sequence continued by its mirror images (the edge sample twice). */
function mirror(index: number, length: number): number {
  const period = 2 * length;
  const folded = ((index % period) + period) % period;
  return folded < length ? folded : period - 1 - folded;
}
