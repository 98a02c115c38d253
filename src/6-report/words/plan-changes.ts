import { catalogue, type Figures, type Texts } from "../../core/told.js";
import { densityWords, durationWords, mmWords, percentWords, wholePercent } from "../../core/words.js";
import { fixed } from "./matter.js";
import { linesWords, type NamedRow } from "./plan-reasons.js";
import { type VaryingDose, varyingDoseWords } from "./variation-words.js";

interface Counting extends NamedRow {
  readonly useful: number;
}

interface Pitch {
  readonly linesPerInch: number;
  readonly pitchMm: number;
}

const countingWords = ({ linesPerInch, seconds, useful }: Counting): string =>
  `${linesWords(linesPerInch)} takes ${durationWords(seconds)} and has ${fixed(useful, 1)} useful tones.`;

/** Changes that would lead to another recommendation. */
export const { tell: changedBy, say: sayChange } = catalogue({
  "more-time": ({ allowed, ...row }: Counting & { readonly allowed: boolean }) =>
    `${allowed ? "More of the time allowed" : "More time"}: ${countingWords(row)}`,
  "no-more-time": () => "More time would not change it: no higher density has more useful tones.",
  "steadier-dose": ({
    cause,
    nominal,
    held,
    detailMm,
  }: Figures<"nominal" | "held" | "detailMm"> & { readonly cause: VaryingDose }) =>
    `A steadier machine: most tones are lost to ${varyingDoseWords(cause)}. If the dose did not vary, a ${detailMm} mm detail would hold ${fixed(nominal, 1)} tones instead of ${fixed(held, 1)}.`,
  "less-time": (row: Counting) => `Less time: ${countingWords(row)}`,
  "other-measure": ({ gain }: Figures<"gain">, reader) =>
    `Another measure of enough: ${reader.option("gain")} sets what a doubling of the time must add to the useful tones (here ${percentWords(gain)}), and ${reader.option("tones")} asks for a number of tones that a detail must hold.`,
  "char-dose-unknown": ({ material }: Texts<"material">) =>
    `The dose at which ${material} chars, which nobody has measured: put charDose into a material file, and densities whose line centres char are omitted.`,
  "char-dose": ({ material, charDose }: Figures<"charDose"> & Texts<"material">) =>
    `The dose at which your ${material} really chars (charDose in a material file, here ${charDose}).`,
  "another-tone": ({ darkness }: Figures<"darkness">, reader) =>
    `Another tone (${reader.option("darkness")}, here ${wholePercent(darkness)}): a fainter one needs less dose and allows a lower density.`,
  "other-densities": () =>
    "Another density gives the same tone at the power or speed in its row: a higher one is smoother across the lines and takes longer at the same speed.",
  "mark-width": ({ here, next }: { readonly here: Pitch; readonly next?: Pitch | undefined }, reader) =>
    `The width of a real line: engrave one, measure it and give it with ${reader.option("markMm")}. At ${linesWords(here.linesPerInch)} marks narrower than ${mmWords(here.pitchMm)} leave bare strips${next ? `; ${densityWords(next.linesPerInch)} tolerates marks as narrow as ${mmWords(next.pitchMm)}` : ""}.`,
  "larger-margin": ({ margin, linesPerInch }: Figures<"margin" | "linesPerInch">, reader) =>
    `Work that is not flat or not in focus, where lines mark wider but weaker: with ${reader.option("margin")} at ${wholePercent(margin)} it would need at least ${linesWords(Math.ceil(linesPerInch))}.`,
  "wider-spot": ({ spotMm }: Figures<"spotMm">) =>
    `A spot wider than ${mmWords(spotMm)}, for instance slightly out of focus.`,
});

export type Change = ReturnType<typeof changedBy>;
