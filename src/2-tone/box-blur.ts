/**
 * Mean over a square of 2·radius + 1 pixels, by running sums. Beyond the edges the edge value repeats; closed rows continue at
 * their other end.
 */
export function boxBlur(
  source: Float32Array,
  columns: number,
  rows: number,
  radiusPx: number,
  closed = false,
): Float32Array {
  const along = new Float32Array(source.length);
  const row: Line = { length: columns, step: 1, closed };
  for (let y = 0; y < rows; y++) runningMean(source, along, row, y * columns, radiusPx);
  const out = new Float32Array(source.length);
  const column: Line = { length: rows, step: columns, closed: false };
  for (let x = 0; x < columns; x++) runningMean(along, out, column, x, radiusPx);
  return out;
}

/** A row or a column of a plane. */
interface Line {
  readonly length: number;
  /** Distance from one value to the next. */
  readonly step: number;
  /** True if the last and the first value are neighbours. */
  readonly closed: boolean;
}

function runningMean(
  source: Float32Array,
  out: Float32Array,
  { length, step, closed }: Line,
  start: number,
  radius: number,
): void {
  const last = length - 1;
  const within = closed
    ? (i: number): number => ((i % length) + length) % length
    : (i: number): number => Math.min(last, Math.max(0, i));
  const at = (i: number): number => source[start + step * within(i)];
  let sum = 0;
  for (let i = -radius; i <= radius; i++) sum += at(i);
  for (let i = 0; i < length; i++) {
    out[start + step * i] = sum / (2 * radius + 1);
    sum += at(i + radius + 1) - at(i - radius);
  }
}
