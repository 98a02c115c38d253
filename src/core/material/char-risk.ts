/** What of a solid fill takes a dose from which its material chars. */
export type CharRisk = "none" | "line centres" | "everywhere";

/**
 * @param charDose dose from which the material chars; undefined where nobody has said
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

/** What a warning of char tells. */
export interface CharRiskFacts {
  readonly material: string;
  readonly charDose: number;
  readonly peakDose: number;
  readonly where: Exclude<CharRisk, "none">;
}

/** Undefined where nothing chars. */
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
