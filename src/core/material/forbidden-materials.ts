/** Materials that must not be processed, found by the names people commonly give them. */

export interface ForbiddenMaterial {
  /** Common names, lower case; the first one is shown. Each also matches as part of a longer name. */
  readonly names: readonly string[];
  /** Names that match only as the entire name, because they are too vague inside a longer one. */
  readonly wholeNames?: readonly string[];
  /** Words in the same name which show that another material is meant. */
  readonly unless?: readonly string[];
  /** Why it is refused, and the alternative if there is one. */
  readonly reason: string;
  /** What it does to people or to the machine. */
  readonly hazard: string;
  readonly source: string;
}

const fromMemory = "common practice; stated from memory";

export const forbiddenMaterials: readonly ForbiddenMaterial[] = [
  {
    names: ["pvc", "upvc", "cpvc", "polyvinyl chloride", "vinyl chloride"],
    reason: "PVC is more than half chlorine by weight, and heat sets it free as hydrogen chloride.",
    hazard: "Hydrogen chloride burns eyes and airways and corrodes the machine; the fume also holds benzene.",
    source:
      "organic fume of PVC under a CO2 laser: Rockwell et al. (1976), NIOSH-funded; chlorine share by arithmetic; hydrogen chloride from memory",
  },
  {
    names: ["vinyl"],
    // Polymers of vinyl acetate and vinyl alcohol contain no chlorine.
    unless: ["acetate", "alcohol"],
    reason: "Vinyl sheet, film, records and leathercloth are PVC unless a data sheet says otherwise.",
    hazard: "Hydrogen chloride burns eyes and airways and corrodes the machine.",
    source: fromMemory,
  },
  {
    names: ["faux leather", "imitation leather", "artificial leather", "synthetic leather", "pleather"],
    unless: ["pu", "polyurethane"],
    reason:
      "Imitation leather is often PVC. If its data sheet rules out PVC and other halogens, ask for leatherette.",
    hazard: "If it is PVC, hydrogen chloride burns eyes and airways and corrodes the machine.",
    source: fromMemory,
  },
  {
    names: [
      "ptfe",
      "polytetrafluoroethylene",
      "fluoropolymer",
      "fluoroplastic",
      "pvdf",
      "fep",
      "etfe",
      "pfa",
    ],
    reason: "Fluoropolymers hold fluorine, and heat sets it free.",
    hazard: "Hydrogen fluoride and other fluorine compounds are very poisonous even in small amounts.",
    source: fromMemory,
  },
  {
    names: [
      "chlorinated",
      "chlorine",
      "halogenated",
      "halogen",
      "brominated",
      "bromine",
      "fluorinated",
      "fluorine",
      "pvdc",
      "polyvinylidene chloride",
      "chloroprene",
      "polychloroprene",
      "neoprene",
    ],
    reason: "It holds chlorine or another halogen, which heat sets free as an acid gas.",
    hazard: "Hydrogen chloride, bromide or fluoride harms people and corrodes the machine.",
    source: fromMemory,
  },
  {
    names: ["polycarbonate"],
    wholeNames: ["pc", "pc sheet"],
    reason: "Polycarbonate discolours, soots and burns instead of marking cleanly. Clear acrylic marks well.",
    hazard: "It catches fire easily, and the soot and fume are harmful.",
    source: fromMemory,
  },
  {
    names: ["abs", "acrylonitrile butadiene styrene"],
    reason: "ABS melts instead of vaporising, and holds nitrogen that leaves as a cyanide.",
    hazard: "The fume can hold hydrogen cyanide, and the melt catches fire easily.",
    source: fromMemory,
  },
  {
    names: ["carbon fibre", "carbon fiber", "cfrp"],
    reason: "The resin burns before the fibres part, and the fibres become airborne.",
    hazard: "Poisonous resin fume, and fine conducting fibres that harm lungs and electronics.",
    source: fromMemory,
  },
  {
    names: ["fibreglass", "fiberglass", "glass fibre", "glass fiber", "gfrp", "grp", "fr4", "circuit board"],
    reason: "The resin chars around glass that stays, and board resins often hold bromine.",
    hazard: "Poisonous resin fume and fine glass dust.",
    source: fromMemory,
  },
  {
    names: ["beryllium", "beryllia"],
    reason: "Beryllium copper, other beryllium alloys and beryllia give off beryllium dust or fume.",
    hazard: "Inhaled beryllium causes lasting lung disease and cancer.",
    source: fromMemory,
  },
  {
    names: [
      "chrome tanned",
      "chrome tan",
      "chrome leather",
      "chromium tanned",
      "wet blue leather",
      "wet blue hide",
    ],
    wholeNames: ["wet blue"],
    reason:
      "Chrome-tanned leather needs a safety data sheet and the advice of someone qualified first. Vegetable-tanned leather needs none of this.",
    hazard:
      "Heat can turn the tanning salts into chromium(VI) compounds, which are poisonous and cause cancer.",
    source: fromMemory,
  },
  {
    names: [
      "unknown plastic",
      "unidentified plastic",
      "unmarked plastic",
      "unlabelled plastic",
      "unlabeled plastic",
      "mystery plastic",
      "unknown polymer",
      "unknown material",
    ],
    wholeNames: ["plastic", "plastic sheet", "plastic film", "plastic foil", "unknown"],
    reason: "Nobody can tell what an unidentified plastic gives off. Find its data sheet first.",
    hazard: "It may hold chlorine, fluorine or nitrogen, and so give off acid gas or cyanide.",
    source: fromMemory,
  },
];

/**
 * The first forbidden material that a name matches.
 *
 * Case, accents, spaces, punctuation and a plural s are ignored. A known name matches as whole words ("PVC sheet",
 * "vinyl-record"), and also when written as one word or as several ("carbonfibre", "P.V.C."). It does not match when negated
 * ("PVC-free", "non-chlorinated").
 */
export function findForbiddenMaterial(name: string): ForbiddenMaterial | undefined {
  const words = wordsOf(name);
  const entire = words.join("");
  return forbiddenMaterials.find(
    ({ names, wholeNames = [], unless = [] }) =>
      !unless.some((word) => words.includes(word)) &&
      (names.some((known) => contains(words, joined(known))) ||
        wholeNames.some((known) => entire === joined(known))),
  );
}

/** Lower-case words without accents, punctuation and plural s. Digits and letters are separated, so "3mmPVC" is found. */
function wordsOf(name: string): string[] {
  const spaced = name
    .normalize("NFKD")
    .replace(/\p{Mark}/gu, "")
    .replace(/(\p{Ll})(?=\p{Lu})/gu, "$1 ")
    .toLowerCase();
  const words = spaced.match(/[a-z]+|[0-9]+/g) ?? [];
  // Short words and a double s stay: the s of "abs" and "glass" is part of the word.
  return words.map((word) => (/^[a-z]{3,}[^s]s$/.test(word) ? word.slice(0, -1) : word));
}

function joined(name: string): string {
  return wordsOf(name).join("");
}

/** Whether a run of adjacent words, joined, is the known name and is not negated. */
function contains(words: readonly string[], known: string): boolean {
  for (let first = 0; first < words.length; first++) {
    let run = "";
    for (let last = first; last < words.length && run.length < known.length; last++) {
      run += words[last];
      if (run === known && !negated(words, first, last)) return true;
    }
  }
  return false;
}

function negated(words: readonly string[], first: number, last: number): boolean {
  return words[last + 1] === "free" || ["no", "non", "not", "without"].includes(words[first - 1] ?? "");
}
