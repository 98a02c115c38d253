/** Material presets as data: response to dose, colours, and the source of the figures. */

export interface MaterialPreset {
  /** Name on the command line, kebab-case. */
  readonly id: string;
  /** Name for people. */
  readonly name: string;
  readonly aliases?: readonly string[];
  /**
   * [dose, luminance factor] points. Dose is relative to the mean dose of a solid fill at the reference
   * setting and rises from 0 to 1. The luminance factor (CIE Y, 0..1) is monotone: it falls if marks are
   * darker than the bare surface, and rises if they are lighter.
   */
  readonly response: readonly (readonly [dose: number, luminanceFactor: number])[];
  /** sRGB hex, for the preview: the surface at dose 0. */
  readonly bareColor: string;
  /** sRGB hex, for the preview: the surface at dose 1. */
  readonly markedColor: string;
  /** `gradual`: tone follows dose over a wide range. `steep`: nearly all of the change lies in a narrow range. */
  readonly shape: "gradual" | "steep";
  /** Pitch in mm that dose 1 refers to. Absent if the tone was assumed without a pitch. */
  readonly referencePitchMm?: number;
  /** Dose from which the surface chars. It is illustrative, and the source says so. Absent if nothing chars. */
  readonly charDose?: number;
  /** Which figures are published and which are assumed. Starts with "illustrative" if nobody measured the table. */
  readonly source: string;
  readonly hazards: readonly string[];
}

type Response = MaterialPreset["response"];

/** Doses of the gradual tables: close together where the tone changes, wide in saturation. */
const gradualDoses = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1];

function gradual(luminanceFactors: readonly number[]): Response {
  return table(gradualDoses, luminanceFactors);
}

function table(doses: readonly number[], luminanceFactors: readonly number[]): Response {
  return doses.map((dose, i) => [dose, luminanceFactors[i]] as const);
}

// Kubovský, Kačík and Veľková report only the largest change, so both ends are assumed.
function publishedDrop(drop: string, ends: string): string {
  return (
    `illustrative: the L* drop of ${drop} is published (Kubovský, Kačík & Veľková, BioResources 13(2), ` +
    `2515 (2018), 10.6 µm, 45 W); the ends (L* ${ends}) and the shape between them are assumed`
  );
}

// Beech charred from 20 to 25 J/cm² and was fully dark at 75 (Kúdela et al., Acta Fac. Xylol. Zvolen 61(1), 5 (2019)). No source
// relates those doses to the luminance of engraved wood, so the char dose is set a little beyond the darkest tone.
const charAssumed = (source: string): string => `${source}; the dose at which it chars is assumed too`;

function assumed(ends: string): string {
  return `illustrative: the ends (L* ${ends}) and the shape between them are assumed`;
}

const woodSmoke =
  "Wood smoke is harmful and resinous or charred spots can flame: run the extraction and stay with the job.";
const treatedWood = "Treated, painted, pressed or glued wood: check the data sheet first.";
const reflection = "Bare metal reflects 10.6 µm and 1 µm beams: keep the enclosure shut.";
const coatingSheet =
  "The coating decides the fume: process it only with a data sheet that rules out PVC and other halogens.";

/** Every preset material, in the order in which a user should read them. None was measured on the user's machine. */
export const materialPresets: readonly MaterialPreset[] = [
  {
    id: "maple",
    name: "maple",
    aliases: ["maple-wood", "hard-maple"],
    response: gradual([0.6799, 0.6612, 0.5883, 0.4696, 0.3384, 0.2274, 0.1245, 0.0802, 0.0624]),
    bareColor: "#ead4b3",
    markedColor: "#5e402c",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(publishedDrop("56.0", "86 to 30")),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "beech",
    name: "beech",
    aliases: ["beech-wood", "european-beech"],
    response: gradual([0.5153, 0.5065, 0.4648, 0.3869, 0.291, 0.2028, 0.1157, 0.0775, 0.0632]),
    bareColor: "#ddb795",
    markedColor: "#623f2b",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(publishedDrop("46.8", "77 to 30.2")),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "lime",
    name: "lime (basswood)",
    aliases: ["basswood", "linden", "lime-wood"],
    response: gradual([0.603, 0.5765, 0.493, 0.3776, 0.2665, 0.1821, 0.11, 0.0803, 0.0687]),
    bareColor: "#ddcaa5",
    markedColor: "#5f4531",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(publishedDrop("50.5", "82 to 31.5")),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "birch-plywood",
    name: "birch plywood",
    aliases: ["birch-ply", "plywood"],
    response: gradual([0.5668, 0.5474, 0.4846, 0.3931, 0.2977, 0.2179, 0.1402, 0.1027, 0.085]),
    bareColor: "#dac49c",
    markedColor: "#6c4b35",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(assumed("80 to 35")),
    hazards: [
      woodSmoke,
      "The glue decides part of the fume and burns unevenly: check the board's data sheet.",
    ],
  },
  {
    id: "cherry",
    name: "cherry",
    aliases: ["cherry-wood"],
    response: gradual([0.3159, 0.3059, 0.2736, 0.2261, 0.1759, 0.133, 0.0901, 0.0687, 0.0584]),
    bareColor: "#c28d67",
    markedColor: "#5d3d2d",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(assumed("63 to 29")),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "walnut",
    name: "walnut",
    aliases: ["walnut-wood"],
    response: gradual([0.1454, 0.1413, 0.1278, 0.108, 0.087, 0.0691, 0.051, 0.0421, 0.038]),
    bareColor: "#85644a",
    markedColor: "#483226",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(`${assumed("45 to 23")}; a dark wood, so few tones`),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "bamboo",
    name: "bamboo",
    response: gradual([0.4828, 0.4761, 0.4445, 0.3838, 0.3055, 0.2287, 0.145, 0.1031, 0.085]),
    bareColor: "#d4b47f",
    markedColor: "#6b4c32",
    shape: "gradual",
    charDose: 1.2,
    source: charAssumed(
      `${assumed("75 to 35")}; boards are glued strips, and nodes and strips mark unevenly`,
    ),
    hazards: [woodSmoke, treatedWood],
  },
  {
    id: "cork",
    name: "cork",
    response: gradual([0.304, 0.2833, 0.2359, 0.1816, 0.1344, 0.0997, 0.0688, 0.0545, 0.0475]),
    bareColor: "#b58f66",
    markedColor: "#513826",
    shape: "gradual",
    charDose: 1.1,
    source: charAssumed(assumed("62 to 26")),
    hazards: [
      "Cork can smoulder after the job: stay with it and let it cool in sight.",
      "Pressed cork holds a binder: check the data sheet first.",
    ],
  },
  {
    id: "vegetable-tanned-leather",
    name: "vegetable-tanned leather",
    aliases: ["leather", "veg-tan-leather", "vegetable-tanned"],
    response: gradual([0.2812, 0.266, 0.2267, 0.1777, 0.1326, 0.0979, 0.0662, 0.0513, 0.0442]),
    bareColor: "#b8875c",
    markedColor: "#513525",
    shape: "gradual",
    charDose: 1.1,
    source: charAssumed(assumed("60 to 25")),
    hazards: [
      "Only vegetable-tanned leather: chrome-tanned or coated leather needs a safety data sheet first.",
      "The smoke is foul and harmful: run the extraction during the job and for a while after it.",
    ],
  },
  {
    id: "leatherette",
    name: "leatherette, dark face over a pale layer (halogen-free)",
    aliases: ["pu-leatherette", "two-layer-leatherette"],
    response: table(
      [0, 0.16, 0.22, 0.27, 0.32, 0.37, 0.4, 0.45, 1],
      [0.0546, 0.0711, 0.1192, 0.1968, 0.2961, 0.3807, 0.4117, 0.4329, 0.4366],
    ),
    bareColor: "#404246",
    markedColor: "#bfae95",
    shape: "steep",
    referencePitchMm: 0.1,
    source: assumed("28 to 72"),
    hazards: ["Only with a data sheet that rules out PVC and other halogens: much imitation leather is PVC."],
  },
  {
    id: "clear-acrylic",
    name: "clear acrylic, seen on a dark ground",
    aliases: ["acrylic", "cast-acrylic", "pmma"],
    response: gradual([0.0299, 0.0462, 0.0867, 0.1405, 0.1968, 0.2474, 0.3035, 0.3356, 0.3532]),
    bareColor: "#2d3134",
    markedColor: "#9da1a4",
    shape: "gradual",
    source:
      `${assumed("20 to 66")}; a clear sheet takes its tone from the ground and the light; that the marks ` +
      "hold bubbles, which scatter, is published (Gaspard et al., Appl. Surf. Sci. 253, 6442 (2007))",
    hazards: [
      "Gives off methyl methacrylate and ultrafine particles, for about 20 minutes after the job when it was " +
        "cut (Munoz et al., J. Chem. Health Saf. (2023)).",
      "Acrylic catches fire easily: stay with the job.",
    ],
  },
  {
    id: "slate",
    name: "slate",
    response: table(
      [0, 0.14, 0.2, 0.24, 0.28, 0.32, 0.35, 0.39, 1],
      [0.085, 0.0884, 0.1122, 0.1567, 0.2234, 0.2804, 0.2992, 0.3039, 0.304],
    ),
    bareColor: "#4c535b",
    markedColor: "#959693",
    shape: "steep",
    source: `${assumed("35 to 62")}; nearly two-level`,
    hazards: [
      "Stone dust can hold silica: extract it and do not blow it about.",
      "Slate can chip: shield the eyes.",
    ],
  },
  {
    id: "black-anodised-aluminium",
    name: "black anodised aluminium",
    aliases: ["anodised-aluminium", "black-anodized-aluminum", "anodized-aluminum"],
    response: table(
      [0, 0.18, 0.25, 0.31, 0.36, 0.41, 0.45, 0.5, 1],
      [0.0442, 0.0707, 0.1352, 0.2297, 0.3214, 0.4012, 0.4446, 0.4722, 0.4828],
    ),
    bareColor: "#3a3b3d",
    markedColor: "#b7b9ba",
    shape: "steep",
    referencePitchMm: 0.1,
    source: `${assumed("25 to 75")}; the dye bleaches`,
    hazards: [reflection],
  },
  {
    id: "coated-steel",
    name: "coated steel, dark paint stripped to bare metal",
    aliases: ["painted-steel", "powder-coated-steel"],
    response: table(
      [0, 0.15, 0.21, 0.26, 0.3, 0.34, 0.38, 0.42, 1],
      [0.0191, 0.0388, 0.1182, 0.267, 0.4243, 0.5613, 0.6355, 0.6571, 0.6601],
    ),
    bareColor: "#242629",
    markedColor: "#d2d5d6",
    shape: "steep",
    referencePitchMm: 0.1,
    source:
      `${assumed("15 to 85")}; the threshold is set so that a 0.115 mm spot strips it cleanly from 225 lines ` +
      "per inch up and leaves lines at 150 (common practice, no source)",
    hazards: [coatingSheet, reflection],
  },
  {
    id: "glass",
    name: "clear glass, seen on a dark ground",
    aliases: ["clear-glass"],
    response: table(
      [0, 0.17, 0.24, 0.29, 0.34, 0.39, 0.43, 0.48, 1],
      [0.0299, 0.0341, 0.0618, 0.1175, 0.2032, 0.2759, 0.2994, 0.3039, 0.304],
    ),
    bareColor: "#2b3135",
    markedColor: "#919799",
    shape: "steep",
    source: `${assumed("20 to 62")}; nearly two-level; clear glass takes its tone from the ground and the light`,
    hazards: [
      "Glass chips, and can crack from uneven heat: shield the eyes and wipe splinters away wet.",
      "Glass reflects part of the beam: keep the enclosure shut.",
    ],
  },
  {
    id: "denim",
    name: "indigo denim",
    aliases: ["indigo-denim"],
    response: gradual([0.0475, 0.0546, 0.0745, 0.1031, 0.1352, 0.166, 0.2028, 0.2256, 0.2391]),
    bareColor: "#2d3e5b",
    markedColor: "#79879e",
    shape: "gradual",
    source:
      `${assumed("26 to 56")}; that the cloth grows paler as the dye goes is published (Kan, Yuen & Cheng, ` +
      "Coloration Technology (2010))",
    hazards: [
      "Cloth can smoulder after the job: stay with it and let it cool in sight.",
      "Stretch denim, prints and coatings hold other polymers: check the data sheet first.",
    ],
  },
];
