import { createHash } from "node:crypto";
import { kernelFingerprint } from "../core/kernel-memory.js";
import { packageVersion } from "../core/version.js";

/** Two columns of numbers or more, all of one length. A tone curve is one: burn fractions and their luminance factors. */
export type Table = { readonly [column: string]: Float64Array };

/**
 * Keeps tone curves from one job to the next, and what else was measured of a halftone. A store that throws costs time, never a
 * piece.
 */
export interface CurveStore {
  readonly get: (key: string) => Table | undefined | Promise<Table | undefined>;
  readonly set: (key: string, table: Table) => void;
}

/**
 * A table from the store, or else measured and put there.
 *
 * @param depends all that the table depends on but the code, for which version and kernels stand
 * @param columns that it has
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
): table is Record<Column, Float64Array> => columns.every((column) => table[column] !== undefined);

function keyOf(depends: object): string {
  const all = { version: packageVersion(), kernels: kernelFingerprint(), ...depends };
  return createHash("sha256").update(JSON.stringify(all)).digest("hex");
}
