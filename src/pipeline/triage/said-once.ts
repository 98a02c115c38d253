import type { Finding, FindingCode } from "./findings.js";

/** What only a picture's tones show. */
const TONES = ["TOO_DARK", "TOO_PALE", "LOW_CONTRAST"] as const;
const CLIPPED = ["CLIPPED_HIGHLIGHTS", "CLIPPED_SHADOWS"] as const;

/**
 * A finding, and those that are not said beside it: it says the same better, or they cannot be judged where it holds, or both together
 * would contradict each other.
 */
const INSTEAD_OF: readonly (readonly [FindingCode, readonly FindingCode[]])[] = [
  // More pixels or light would not help a picture of one tone.
  [
    "NOTHING_BURNS",
    ["TOO_FEW_PIXELS", "BLURRED", "GRAINY", "SCREENSHOT", "PARTS_LOST", ...TONES, ...CLIPPED],
  ],
  // Smeared parts are even, soft and of any tone.
  [
    "DAMAGED",
    [
      "BLURRED",
      "GRAINY",
      "BLOCKS",
      "SCREENSHOT",
      "ARTWORK",
      "ALREADY_DITHERED",
      "PARTS_LOST",
      ...TONES,
      ...CLIPPED,
    ],
  ],
  // Another picture will come, and is judged then.
  ["ALREADY_DITHERED", ["TOO_FEW_PIXELS", "PARTS_LOST", "SHADES_LOST"]],
  // The areas of a drawing are even, and its few tones may be near each other: that is no fault of light.
  ["ARTWORK", ["SCREENSHOT", "BLOCKS", "GRAINY", ...TONES]],
  // The squares of compression are even.
  ["BLOCKS", ["SCREENSHOT"]],
];

/** The findings that are told. None is left out that asks for the sake of one that only notes, unless it cannot be judged. */
export function withoutContradictions(findings: readonly Finding[]): Finding[] {
  const tonesAsk = findings.some(({ code, grade }) => isOneOf(TONES, code) && grade === "ask");
  // Hardly any tones: whether it is a drawing too does not matter then.
  const told = tonesAsk ? findings.filter(({ code }) => code !== "ARTWORK") : findings;
  const unsaid = new Set<FindingCode>();
  for (const [code, others] of INSTEAD_OF) {
    if (told.some((each) => each.code === code)) for (const other of others) unsaid.add(other);
  }
  return told.filter(({ code }) => !unsaid.has(code));
}

const isOneOf = (codes: readonly FindingCode[], code: FindingCode): boolean => codes.includes(code);
