/** The middle value, or the mean of the two in the middle. NaN for none. */
export function medianOf(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const middle = (sorted.length - 1) / 2;
  return sorted.length === 0 ? Number.NaN : (sorted[Math.floor(middle)] + sorted[Math.ceil(middle)]) / 2;
}
