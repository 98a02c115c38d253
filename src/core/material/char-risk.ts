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

/** A sentence for whoever is about to burn it, and what to do; undefined where nothing chars. */
export function charWarning(
  material: string,
  charDose: number | undefined,
  dose: number,
  peakDose: number,
): string | undefined {
  const risk = charRiskOf(charDose, dose, peakDose);
  if (risk === undefined || risk === "none") return;
  const where = risk === "everywhere" ? "Solid parts char" : "Solid parts char on the centres of their lines";
  return `${where} at this density: the dose there is ${peakDose.toFixed(2)}, and ${material} chars from ${charDose}. Closer lines even the dose out; less power chars less and leaves the darkest tones lighter.`;
}
