/**
 * General cautions for the foot of a report, in plain words. The substance is common practice and the scope of
 * IEC 60825-1, ISO 11553-1, ANSI Z136.1 and NFPA 115. The wording is our own; nothing is quoted.
 */
export const generalCautions: readonly string[] = [
  "These figures are estimates: local codes, the machine maker's instructions and a qualified laser safety officer or other licensed professional come first.",
  "Never leave a running job unattended; keep the bed clean and a suitable extinguisher within reach, know the emergency stop, and remember that slow, dense or repeated passes raise the fire risk.",
  "Never process PVC, vinyl or anything else with chlorine or another halogen: hydrogen chloride and similar gases harm people and corrode the machine.",
  "Do not process unknown plastics, PTFE, polycarbonate, ABS, carbon fibre or anything that holds beryllium.",
  "Use vegetable-tanned leather; chrome-tanned or coated leather, and treated, painted, pressed or glued wood, need a look at the safety data sheet first.",
  "Polished metal and glass can send the beam out of the work: keep the enclosure shut and the interlocks working.",
  "Wear eyewear rated for the wavelength whenever the beam is not fully enclosed; no eyewear makes looking into the beam safe.",
  "Run the extraction and filter during the job and for a while after it.",
  "Test power, speed and density on scrap of the same batch before the real piece.",
];

/** Cautions for the terminal: those of the material in full, the general ones as one line. */
export const cautionsInShort = (cautions: readonly string[], where: string): string[] => [
  ...cautions.filter((caution) => !generalCautions.includes(caution)),
  `Figures are estimates: the machine maker's instructions and local rules come first; stay with the running job; test on scrap. All cautions are ${where === "page" ? "on" : "in"} the ${where}.`,
];

/** The hazard sentence of a material that names no hazards. */
export const hazardsNotNamed = (material: string): string =>
  `No hazards are named for ${material}: find out what its fume and dust contain, from its safety data sheet.`;
