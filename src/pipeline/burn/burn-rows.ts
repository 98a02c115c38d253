import type { HalftoneMethod } from "../../4-halftone/method.js";
import { type BurnTables, compensatedRows, type FractionRows, plainRows } from "../../5-burn/compensate.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { Tabulated } from "../../core/tabulated.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, plainBurn } from "../job.js";
import { compensatedBurn } from "./burn-curve.js";

/** How a job's wanted tones become burn fractions. */
export interface Burner {
  /** Burn fraction by wanted luminance factor. */
  readonly burnFor: Tabulated;
  /** Whether tones are made up for halftone, spot and material. */
  readonly compensated: boolean;
  /** Whether fine texture is balanced (see `compensatedRows`). */
  readonly balanced: boolean;
  /** Where one was measured. */
  readonly curve?: ToneCurve;
}

/** By a measured tone curve. A method that asks for marked area sees to texture itself. */
export function compensatedBurner(model: BurnModel, method: HalftoneMethod, curve: ToneCurve): Burner {
  return { burnFor: compensatedBurn(model, curve), compensated: true, balanced: !method.asksForArea, curve };
}

/** As if marks were as large as their pixels; a method that asks for marked area makes that true. */
export function plainBurner(model: BurnModel, method: HalftoneMethod): Burner {
  return { burnFor: plainBurn(model), compensated: method.asksForArea === true, balanced: false };
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
    ? compensatedRows(tables, { columns, rows, pitch, spot, closed: columns === ringColumns }, codes, memory)
    : plainRows(tables, columns, codes, memory);
}
