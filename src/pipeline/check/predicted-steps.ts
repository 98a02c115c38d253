import { predictLuminance } from "../../5-burn/predict.js";
import type { CheckLayout, CheckPatch } from "../../7-card/check-layout.js";
import { shownName } from "../../7-card/check-recipe.js";
import { RIM } from "../../7-card-picture/measure.js";
import { type PackedBitmap, rowsOfBitmap } from "../../core/packed-bits.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { Job } from "../job.js";

/** Doses over the nominal one at which a check card is predicted, so that its reader can tell how far a machine is off. */
export const CHECK_DOSES = [0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.35, 1.5, 1.7] as const;

/** Mean luminance factor of what the patches show, by name: at each of `CHECK_DOSES`. */
export function predictedSteps(
  job: Job,
  bitmap: PackedBitmap,
  { patches }: CheckLayout,
): Map<string, number[]> {
  const sums = new Map<string, { readonly doses: Float64Array; count: number }>();
  for (const inRow of byTop(patches).values()) {
    const [{ area }] = inRow;
    const predicted = predictedBand(job, bitmap, area);
    for (const patch of inRow) {
      const name = shownName(patch);
      const sum = sums.get(name) ?? { doses: new Float64Array(CHECK_DOSES.length), count: 0 };
      const inner = innerOf({ ...patch.area, top: 0 });
      predicted.forEach((band, k) => {
        sum.doses[k] += meanOf(band, bitmap.columns, inner);
      });
      sum.count++;
      sums.set(name, sum);
    }
  }
  return new Map(
    Array.from(sums, ([name, { doses, count }]) => [name, Array.from(doses, (each) => each / count)]),
  );
}

function byTop(patches: readonly CheckPatch[]): Map<number, CheckPatch[]> {
  const rows = new Map<number, CheckPatch[]>();
  for (const patch of patches) rows.set(patch.area.top, [...(rows.get(patch.area.top) ?? []), patch]);
  return rows;
}

/** The rows of an area, predicted over the whole width of the card. */
function predictedBand(
  { memory, model }: Job,
  bitmap: PackedBitmap,
  { top, rows }: PixelRectangle,
): Float32Array[] {
  const out = CHECK_DOSES.map(() => new Float32Array(bitmap.columns * rows));
  predictLuminance(
    { plan: model.plan, response: model.response, memory },
    rowsOfBitmap(bitmap),
    { firstRow: top, endRow: top + rows },
    { factors: CHECK_DOSES },
    out,
  );
  return out;
}

/** The part of a patch that is measured in a picture, in whole pixels. */
function innerOf({ left, top, columns, rows }: PixelRectangle): PixelRectangle {
  const [x, y] = [Math.round(RIM * columns), Math.round(RIM * rows)];
  return { left: left + x, top: top + y, columns: columns - 2 * x, rows: rows - 2 * y };
}

function meanOf(band: Float32Array, stride: number, { left, top, columns, rows }: PixelRectangle): number {
  let sum = 0;
  for (let y = top; y < top + rows; y++) {
    for (let x = left; x < left + columns; x++) sum += band[y * stride + x];
  }
  return sum / (columns * rows);
}
