import { type ExposurePlan, planExposure } from "../../5-burn/exposure-plan.js";
import { predictBitmap } from "../../5-burn/predict.js";
import { packBitmap } from "../../core/packed-bits.js";
import type { PatternTile } from "../../core/pattern-tile.js";
import type { ResolvedOptions } from "../../options/options.js";

/** Mean luminance factor of a large patch of a pattern, by the exposure model. */
export function createPatternTones(options: ResolvedOptions): (tile: PatternTile) => number {
  const { pitch, spot, motion, material, levels } = options;
  const plan = planExposure(pitch, spot, motion, { levels, material });
  return (tile) => {
    const { columns, rows, bits, margin } = repeated(tile, plan);
    const bitmap = packBitmap(bits, columns, rows, levels);
    const inner = { firstRow: margin.rows, endRow: rows - margin.rows };
    const [predicted] = predictBitmap({ plan, response: material.curve }, bitmap, [1], inner);
    return innerMean(predicted, columns, margin.columns);
  };
}

/**
 * One period of a pattern, with as many whole periods round it as the spot reaches. Lines of both directions differ, so a period
 * has an even number of lines.
 */
function repeated({ columns: width, rows: height, codes }: PatternTile, plan: ExposurePlan) {
  const period = height % 2 === 0 ? height : 2 * height;
  const alongReach = Math.max(plan.evenLines.reach, plan.oddLines.reach);
  const margin = {
    columns: width * Math.ceil(alongReach / width),
    rows: period * Math.ceil(plan.across.reach / period),
  };
  const columns = width + 2 * margin.columns;
  const rows = period + 2 * margin.rows;
  const bits = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) bits[y * columns + x] = codes[(y % height) * width + (x % width)];
  }
  return { columns, rows, bits, margin };
}

function innerMean(predicted: Float32Array, columns: number, margin: number): number {
  let sum = 0;
  let count = 0;
  for (let from = 0; from < predicted.length; from += columns) {
    for (let x = margin; x < columns - margin; x++, count++) sum += predicted[from + x];
  }
  return sum / count;
}
