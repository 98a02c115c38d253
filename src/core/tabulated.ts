/** A smooth function as a table for fast use at every pixel: equal steps over a range, linear in between, constant beyond. */
export interface Tabulated {
  readonly values: Float32Array;
  readonly low: number;
  readonly stepsPerUnit: number;
}

const STEPS = 65536;

export function tabulate(of: (x: number) => number, low: number, high: number): Tabulated {
  const values = new Float32Array(STEPS + 2).fill(of(high));
  for (let i = 0; i < STEPS; i++) values[i] = of(low + ((high - low) * i) / STEPS);
  return { values, low, stepsPerUnit: high > low ? STEPS / (high - low) : 0 };
}

export function lookUp({ values, low, stepsPerUnit }: Tabulated, x: number): number {
  const at = Math.min(STEPS, Math.max(0, (x - low) * stepsPerUnit));
  const step = at | 0;
  return values[step] + (values[step + 1] - values[step]) * (at - step);
}
