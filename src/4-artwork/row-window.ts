import type { BlurShape } from "../core/gaussian-blur.js";
import type { PlaneRows } from "../core/plane-rows.js";
import type { RowsAbout } from "./ridge.js";

/**
 * The rows of a plane from y − reach to y + reach, each with `margin` extra values at both ends. Beyond its edges the edge value
 * repeats; closed rows continue at their other end. Request rows in rising order: only this window is in memory.
 */
export function rowWindow(
  source: PlaneRows,
  { columns, rows, closed = false }: Pick<BlurShape, "columns" | "rows" | "closed">,
  reach: number,
  margin: number,
): (y: number) => RowsAbout {
  const count = 2 * reach + 1;
  const ring = Array.from({ length: count }, () => new Float32Array(columns + 2 * margin));
  const about = [...ring];
  let next = 0;
  return (y) => {
    for (; next <= Math.min(rows - 1, y + reach); next++) {
      const line = ring[next % count];
      line.set(source(next).subarray(0, columns), margin);
      if (closed) goRound(line, columns, margin);
      else {
        line.fill(line[margin], 0, margin);
        line.fill(line[margin + columns - 1], margin + columns);
      }
    }
    for (let k = -reach; k <= reach; k++) {
      about[reach + k] = ring[Math.min(rows - 1, Math.max(0, y + k)) % count];
    }
    return about;
  };
}

function goRound(line: Float32Array, columns: number, margin: number): void {
  for (let i = margin - 1; i >= 0; i--) line[i] = line[i + columns];
  for (let i = margin + columns; i < line.length; i++) line[i] = line[i - columns];
}
