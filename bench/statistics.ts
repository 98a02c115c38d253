export interface Spread {
  readonly median: number;
  readonly min: number;
  readonly max: number;
}

export function spreadOf(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return {
    median: (sorted[Math.floor(middle)] + sorted[Math.ceil(middle)]) / 2,
    min: sorted[0],
    max: sorted[sorted.length - 1],
  };
}
