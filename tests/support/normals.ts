import type { Random } from "../../src/core/random.js";

/** Two independent normal deviates of variance 1 (G. E. P. Box, M. E. Muller, Ann. Math. Statist. 29, 610, 1958). */
export function normals(random: Random): [number, number] {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  const angle = 2 * Math.PI * random();
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}
