/** Simpson's rule with `steps` (even) equal steps. */
export function integrate(of: (x: number) => number, from: number, to: number, steps: number): number {
  const h = (to - from) / steps;
  let sum = of(from) + of(to);
  for (let i = 1; i < steps; i++) sum += (i % 2 === 1 ? 4 : 2) * of(from + i * h);
  return (sum * h) / 3;
}

/** Normalised Gaussian density. */
export function gaussian(x: number, sigma: number): number {
  return Math.exp(-((x / sigma) ** 2) / 2) / (sigma * Math.sqrt(2 * Math.PI));
}
