import type { Reader } from "../../core/reader.js";
import { listWords } from "../../core/words.js";
import type { CheckedStep, ToneCheck } from "../check.js";
import { fixed } from "./matter.js";

/** A check before it is words. */
export type ToneCheckFigures = Omit<ToneCheck, "outcome" | "advice" | "notes">;

const SIDES = { "too-dark": "too dark", "too-light": "too light" } as const;
type Side = keyof typeof SIDES;

/** What came out, in one or two sentences. */
export function outcomeWords({ steps, verdict, dose }: ToneCheckFigures): string {
  const worst = Math.max(...steps.map(({ difference }) => Math.abs(difference)));
  if (verdict === "within") {
    return `All ${steps.length} tones came out as predicted, to ${fixed(worst, 1)} L* or better: your files hold.`;
  }
  const off = (Object.keys(SIDES) as Side[]).flatMap((side) => sideWords(steps, side));
  const why =
    verdict === "dose" ? `That is what ${doseWords(dose)} would do.` : "No change of the dose explains that.";
  return `${capital(off.join(", and "))}. ${why}`;
}

/** `tones 3 to 9 came out too dark, by 2.4 to 6.1 L*`. */
function sideWords(steps: readonly CheckedStep[], side: Side): string[] {
  const off = steps.filter(({ verdict }) => verdict === side);
  if (off.length === 0) return [];
  const by = off.map(({ difference }) => Math.abs(difference));
  const [least, most] = [Math.min(...by), Math.max(...by)].map((each) => fixed(each, 1));
  const amount = least === most ? most : `${least} to ${most}`;
  return [`${namesWords(off)} came out ${SIDES[side]}, by ${amount} L*`];
}

/** `tones 3 to 9, tone 12 and the solid patches`: three or more in a row are named by the first and the last. */
function namesWords(off: readonly CheckedStep[]): string {
  const numbers = off.flatMap(({ name }) => (name === SOLID ? [] : [Number(name.replace("tone-", ""))]));
  const runs: number[][] = [];
  for (const number of numbers) {
    const last = runs[runs.length - 1];
    if (last && number === last[last.length - 1] + 1) last.push(number);
    else runs.push([number]);
  }
  const words = runs.flatMap((run) =>
    run.length < 3 ? run.map((number) => `tone ${number}`) : [`tones ${run[0]} to ${run[run.length - 1]}`],
  );
  const solid = off.some(({ name }) => name === SOLID) ? ["the solid patches"] : [];
  return listWords([...words, ...solid], "and");
}

const SOLID = "solid";

/** `tone 3`, `solid`. */
export const stepName = ({ name }: Pick<CheckedStep, "name">): string => name.replace("-", " ");

/** `about 15 % more dose`. */
function doseWords({ factor, isLimit }: ToneCheck["dose"]): string {
  const percent = Math.round(100 * Math.abs(factor - 1));
  return `${isLimit ? "at least" : "about"} ${percent} % ${factor > 1 ? "more" : "less"} dose`;
}

/** What to do, in order. */
export function adviceWords({ verdict, dose, material }: ToneCheckFigures, reader: Reader): string[] {
  if (verdict === "within")
    return ["Nothing. Prepare your jobs with these two files.", ...leaningWords(dose)];
  const again = `To learn machine and material anew, engrave a test card and read it: ${reader.testCard()}.`;
  if (verdict === "shape") {
    return [
      "Check that the machine engraved this bitmap at its own size and density, with every correction, smoothing and dithering of its software off.",
      `Check that the piece is of the material that was measured, and of the same batch: the files are for ${material}.`,
      "Check the focus: a larger spot darkens or lightens the middle tones alone.",
      again,
    ];
  }
  const { factor } = dose;
  return [
    "Check power, speed and number of passes. If they are not those for this density, set them right and engrave the check card again.",
    factor > 1
      ? "If they are, the machine burns more than when it was measured: a new or cleaned lens, or a fresh source, does that."
      : "If they are, the machine burns less than when it was measured: clean the lens and the mirrors, and check the focus.",
    `If it stays so, set ${fixed(1 / factor, 2)} × the power for every job, and engrave the check card again.`,
    again,
  ];
}

/** A smaller change of the dose is not worth a word. */
const LEANING = 0.05;

/** Tones within the band that all lean to one side. */
const leaningWords = (dose: ToneCheck["dose"]): string[] =>
  dose.explains && Math.abs(dose.factor - 1) >= LEANING
    ? [
        `The tones lean towards those of ${doseWords(dose)}, too little to see. Engrave another check card in some weeks: if it leans further, the machine drifts.`,
      ]
    : [];

/** How far to trust it. */
export function toneCheckNotes({ steps, pictures, camera, bareLuminance }: ToneCheckFigures): string[] {
  const spoilt = steps.reduce((sum, each) => sum + each.spoilt, 0);
  return [
    `A tone is within the band if its patches are on average no more than 2 L* off, or three times as far as repeats of it let their mean be known. Where the machine varies over the card, the band is wider for that.`,
    `Tones are measured against the bare surface of this card, which the material file takes to have the luminance factor ${fixed(bareLuminance, 2)}. If the wood or stone itself differs, all tones differ with it, and this check does not see it.`,
    ...(pictures.length > 1 ? [`The figures are means of ${pictures.length} pictures.`] : []),
    ...(spoilt > 0
      ? [
          `${spoilt === 1 ? "1 patch is hidden or differs from its repeats and was" : `${spoilt} patches are hidden or differ from their repeats and were`} left out.`,
        ]
      : []),
    ...(camera === "assumed"
      ? ["The camera is taken to write sRGB. One that adds contrast of its own makes middle tones look off."]
      : []),
  ];
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
