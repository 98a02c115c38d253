import { type BurnTables, compensatedRows, type FractionRows, plainRows } from "../5-burn/compensate.js";
import type { ToneCurve } from "../5-burn/tone-curve.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import type { CodeRows } from "../core/plane-rows.js";
import type { Tabulated } from "../core/tabulated.js";
import type { BurnModel } from "./job.js";

/** How a job's wanted tones become burn fractions. */
export interface Burner {
  /** Burn fraction by wanted luminance factor. */
  readonly burnFor: Tabulated;
  /** Whether fine texture is balanced (see `compensatedRows`); goes with a measured tone curve. */
  readonly balanced: boolean;
  /** Where one was measured. */
  readonly curve?: ToneCurve;
}

/** Burn fractions row by row from the photo's luminance on the grid. */
export function burnRows(
  memory: KernelMemory,
  { wantedByCode, bareCode, solidCode }: BurnModel,
  { burnFor, balanced }: Burner,
  codes: CodeRows,
  columns: number,
  rows: number,
  { pitch, spot, ringColumns }: ResolvedOptions,
): FractionRows {
  const tables: BurnTables = { wantedByCode, burnFor, bareCode, solidCode };
  return balanced
    ? compensatedRows(memory, tables, { columns, rows, pitch, spot, closed: columns === ringColumns }, codes)
    : plainRows(memory, tables, columns, codes);
}
