import { modulo } from "../core/modulo.js";

/** A stretch of a line that repeats, during which the source is on at one power. In the direction of travel. */
export interface LitStretch {
  readonly fromMm: number;
  readonly toMm: number;
  /** Share of full power. */
  readonly power: number;
}

/**
 * When the source is on, along a line that repeats without end. A source with a loss starts each burst late, and leaves out one that is
 * no longer than that. With a negative loss it stops late, at the power of the last pixel, or goes on if the next burst starts before.
 *
 * @param powers of the pixels of one period, in the order of travel
 */
export function litStretches(powers: readonly number[], pitchMm: number, lossMm: number): LitStretch[] {
  const count = powers.length;
  const firstBare = powers.indexOf(0);
  if (firstBare < 0) {
    return powers.map((power, n) => ({ fromMm: n * pitchMm, toMm: (n + 1) * pitchMm, power }));
  }
  const lit: LitStretch[] = [];
  const powerAt = (n: number): number => powers[modulo(n, count)];
  for (let n = firstBare; n < firstBare + count; n++) {
    if (powerAt(n) === 0) continue;
    const start = n;
    while (powerAt(n) > 0) n++;
    let next = n;
    while (powerAt(next) === 0) next++;
    const burnsFromMm = start * pitchMm + Math.max(0, lossMm);
    const burnsToMm = Math.min(next * pitchMm, n * pitchMm + Math.max(0, -lossMm));
    for (let k = start; k < n; k++) {
      const fromMm = Math.max(k * pitchMm, burnsFromMm);
      const toMm = k === n - 1 ? burnsToMm : (k + 1) * pitchMm;
      if (toMm > fromMm) lit.push({ fromMm, toMm, power: powerAt(k) });
    }
  }
  return lit;
}
