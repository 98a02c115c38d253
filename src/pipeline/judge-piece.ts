import type { HalftoneMethod } from "../4-halftone/method.js";
import { predictLuminance } from "../5-burn/predict.js";
import { type VisualError, visualErrors } from "../5-burn/visual-error.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { type PackedBitmap, packedRow } from "../core/packed-bits.js";
import { burnRows } from "./burn-rows.js";
import { type BurnModel, halftoneFunction, plainBurn } from "./job.js";
import { type FramedPhoto, luminanceRows } from "./luminance.js";
import { spreadDoses, viewingOf } from "./viewing.js";

export interface PieceErrors {
  readonly nominal: VisualError;
  /** Mean visual error over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  readonly uncompensated: VisualError;
}

/** Hold a bitmap against what was wanted, at the doses of the process spread, and what it would be without compensation. */
export function judgePiece(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  framed: FramedPhoto,
  method: HalftoneMethod,
  options: ResolvedOptions,
): PieceErrors {
  const { columns, rows } = bitmap;
  const { plan, response, wantedByCode } = model;
  const codes = luminanceRows(framed, options, memory);
  const wanted = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++)
    wanted.set(
      Float32Array.from(codes(y), (code) => wantedByCode[code]),
      y * columns,
    );
  const fractionsOf = burnRows(
    memory,
    model,
    { burnFor: plainBurn(model), balanced: false },
    codes,
    columns,
    rows,
    options,
  );
  const fractions = new Int16Array(columns * rows);
  const row = memory.int16(columns);
  for (let y = 0; y < rows; y++) {
    fractionsOf(y, row);
    fractions.set(row, y * columns);
  }
  const plain = halftoneFunction(method, options, memory)(fractions, columns, rows);
  const doses = spreadDoses(options.doseSpread);
  const predicted = doses.map(() => new Float32Array(columns * rows));
  predictLuminance(
    memory,
    plan,
    response,
    (y) => packedRow(bitmap, y),
    columns,
    rows,
    0,
    rows,
    doses,
    predicted,
  );
  const other = new Float32Array(columns * rows);
  predictLuminance(memory, plan, response, (y) => packedRow(plain, y), columns, rows, 0, rows, [1], [other]);
  const [nominal, under, over, uncompensated] = visualErrors(
    [...predicted, other],
    wanted,
    columns,
    rows,
    options.pitch,
    viewingOf(options),
  );
  return { nominal, expectedVisualError: (nominal.rms + under.rms + over.rms) / 3, uncompensated };
}
