/** The part of a solid fill that gets enough dose to char. */
export type CharRisk = "none" | "line centres" | "everywhere";

/**
 * @param charDose dose from which the material chars; undefined if unknown
 * @param dose mean dose of the fill
 * @param peakDose dose on the centres of its lines
 */
export function charRiskOf(
  charDose: number | undefined,
  dose: number,
  peakDose: number,
): CharRisk | undefined {
  if (charDose === undefined) return;
  if (dose >= charDose) return "everywhere";
  return peakDose >= charDose ? "line centres" : "none";
}

/** The facts in a warning about charring. */
export interface CharRiskFacts {
  readonly material: string;
  readonly charDose: number;
  readonly peakDose: number;
  readonly where: Exclude<CharRisk, "none">;
}

/** Undefined if nothing chars. */
export function charRiskFacts(
  material: string,
  charDose: number | undefined,
  dose: number,
  peakDose: number,
): CharRiskFacts | undefined {
  const where = charRiskOf(charDose, dose, peakDose);
  if (charDose === undefined || where === undefined || where === "none") return;
  return { material, charDose, peakDose, where };
}
