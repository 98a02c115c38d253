import { createHash } from "node:crypto";
import { kernelFingerprint } from "../core/kernel-memory.js";
import { packageVersion } from "../core/version.js";

/** Two or more columns of numbers of the same length. For example a tone curve: burn fractions and their luminance factors. */
export type Table = { readonly [column: string]: Float64Array };

/** Keeps tone curves and other measurements of halftones from one job to the next. A store may fail: it only costs time. */
export interface CurveStore {
  readonly get: (key: string) => Table | undefined | Promise<Table | undefined>;
  readonly set: (key: string, table: Table) => void;
}

/**
 * A table from the store. If it is not there, it is measured and stored.
 *
 * @param depends everything that the table depends on, except the code: version and kernels identify that
 * @param columns of the table
 */
export async function keptTable<Column extends string>(
  curves: CurveStore | undefined,
  depends: object,
  columns: readonly Column[],
  measure: () => Promise<Record<Column, Float64Array>> | Record<Column, Float64Array>,
): Promise<Record<Column, Float64Array>> {
  if (!curves) return measure();
  const key = keyOf(depends);
  const known = await readKept(curves, key);
  if (known && hasColumns(known, columns)) return known;
  const measured = await measure();
  try {
    await curves.set(key, measured);
  } catch {
    // Measured again next time.
  }
  return measured;
}

async function readKept(curves: CurveStore, key: string): Promise<Table | undefined> {
  try {
    return await curves.get(key);
  } catch {
    return undefined; // as if it had not been kept
  }
}

const hasColumns = <Column extends string>(
  table: Table,
  columns: readonly Column[],
): table is Record<Column, Float64Array> => columns.every((column) => table[column]?.length > 0);

function keyOf(depends: object): string {
  const all = { version: packageVersion(), kernels: kernelFingerprint(), ...depends };
  return createHash("sha256").update(JSON.stringify(all)).digest("hex");
}
