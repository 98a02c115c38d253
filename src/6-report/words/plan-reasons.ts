import type { Reader } from "../../core/reader.js";
import { speedWords } from "../../core/shown-units.js";
import { catalogue, type Figures, type Texts } from "../../core/told.js";
import { densityWords, durationWords, mmWords, percentWords } from "../../core/words.js";
import type { PlanRow, WorkKind } from "../plan.js";
import { fixed } from "./matter.js";
import { powerPercentWords } from "./power-words.js";

/** A row of a plan in a reason. */
export interface NamedRow {
  readonly linesPerInch: number;
  readonly seconds: number;
}

interface Held {
  readonly detailMm: number;
  readonly held: number;
}

interface WorthIt extends Figures<"linesPerInch" | "worthLinesPerInch" | "gain"> {
  /** Whether twice the time would still add enough there. */
  readonly isCapped: boolean;
  /** The limit of time, if it keeps the nearest row away. */
  readonly minutes?: number | undefined;
  /** A nearer row, that chars. */
  readonly chars?: number;
  /** The nearest row, if one beside it has noticeably less error. */
  readonly beside?: number;
}

interface RowError extends NamedRow {
  readonly useful: number;
  /** Expected visual error in L*. */
  readonly error: number;
}

interface LeastError {
  readonly here: RowError;
  readonly there: RowError;
  readonly isNoticeable: boolean;
}

/** A requested tone, in L*. */
interface Tone {
  readonly lightness: number;
}

interface Lens extends NamedRow {
  readonly name: string;
  /** Useful tones of a photo. */
  readonly useful?: number;
}

export const linesWords = (linesPerInch: number): string => `${densityWords(linesPerInch)} lines per inch`;

/** `2.7 times`, to two digits. */
export const timesWords = (ratio: number): string => `${Number(ratio.toPrecision(2))} times`;

const within = (minutes: number | undefined): string =>
  minutes === undefined ? "compared" : `within ${minutes} min`;

const toneWords = ({ lightness }: Tone): string => `L* ${fixed(lightness, 0)}`;

/** Why one lens is better than the others. */
const lensReasons = {
  "lens-chosen": ({
    kind,
    name,
    others,
  }: Texts<"name"> & { readonly kind: WorkKind; readonly others: readonly Lens[] }) => {
    const why =
      kind === "photo"
        ? "the quickest of those within a tenth of the most useful tones"
        : "the quickest at its own best density";
    const told = others.map(
      (lens) =>
        `${lens.name}: ${linesWords(lens.linesPerInch)}, ${durationWords(lens.seconds)}${lens.useful === undefined ? "" : `, ${fixed(lens.useful, 1)} useful tones`}`,
    );
    return `Of ${others.length + 1} spots, ${name} is ${why} (${told.join("; ")}).`;
  },
};

/** A smaller ratio of times is not mentioned. */
const MORE_TIME = 1.1;

/** What keeps a nearer row away. */
const nearestWords = ({ minutes, chars }: Pick<WorthIt, "minutes" | "chars">): string =>
  [
    ...(minutes === undefined ? [] : [`within ${minutes} min`]),
    ...(chars === undefined ? [] : [`that does not char (${densityWords(chars)} does)`]),
  ].join(" ");

/** Why a photo is given this density. */
const photoReasons = {
  "nothing-in-time": ({ minutes, linesPerInch, seconds }: NamedRow & Figures<"minutes">) =>
    `Nothing fits into ${minutes} min: even ${linesWords(linesPerInch)} takes ${durationWords(seconds)}.`,
  "enough-tones": ({ linesPerInch, seconds, count, detailMm, held }: NamedRow & Held & Figures<"count">) =>
    `${linesWords(linesPerInch)} is the quickest (${durationWords(seconds)}) that holds ${count} tones in a ${detailMm} mm detail: it holds ${fixed(held, 1)}.`,
  "too-few-tones": ({
    minutes,
    count,
    detailMm,
    held,
    linesPerInch,
    seconds,
  }: NamedRow & Held & Figures<"count"> & { readonly minutes?: number | undefined }) =>
    `No density ${within(minutes)} holds ${count} tones in a ${detailMm} mm detail; ${linesWords(linesPerInch)} comes nearest with ${fixed(held, 1)} in ${durationWords(seconds)}.`,
  "tones-with-more-time": ({ linesPerInch, seconds, held }: NamedRow & Figures<"held">) =>
    `With more time ${linesWords(linesPerInch)} holds enough: ${fixed(held, 1)} in ${durationWords(seconds)}.`,
  "worth-its-time": ({ linesPerInch, worthLinesPerInch, gain, isCapped, ...why }: WorthIt) => {
    const worth = `about ${Number(worthLinesPerInch.toPrecision(2))} lines per inch`;
    const told = isCapped
      ? `More than three times the matched density, ${worth}, is not recommended for itself, although twice the time would still add ${percentWords(gain)} or more to the useful tones`
      : `From ${worth} on, twice the time would add less than ${percentWords(gain)} to the useful tones`;
    const which = nearestWords(why) || "of those compared";
    return why.beside === undefined
      ? `${told}; ${linesWords(linesPerInch)} is the nearest ${which}.`
      : `${told}; ${densityWords(why.beside)} is the nearest ${which}, and ${linesWords(linesPerInch)} beside it comes out with noticeably less error.`;
  },
  "only-density": ({ linesPerInch, seconds }: NamedRow) =>
    `${linesWords(linesPerInch)} is the only density offered, and takes ${durationWords(seconds)}.`,
  "useful-tones": ({ useful, seconds }: Figures<"useful" | "seconds">) =>
    `It has ${fixed(useful, 1)} useful tones in fine detail and takes ${durationWords(seconds)}.`,
  "least-error": ({ here, there, isNoticeable }: LeastError) => {
    const less = fixed(here.error - there.error, 2);
    const found = `The least error, ${fixed(there.error, 2)} L*, is expected at ${linesWords(there.linesPerInch)}`;
    if (!isNoticeable) return `${found}: only ${less} L* less, which nobody notices.`;
    return there.seconds > MORE_TIME * here.seconds
      ? `${found}: ${less} L* less, but it takes ${timesWords(there.seconds / here.seconds)} as long.`
      : `${found}: ${less} L* less, but fine detail has ${fixed(there.useful, 1)} useful tones there.`;
  },
  harms: ({
    material,
    leavesGaps,
    charRisk,
  }: Texts<"material"> & { readonly leavesGaps: boolean; readonly charRisk: PlanRow["charRisk"] }) => {
    const harms = [
      ...(leavesGaps ? ["its lines leave gaps"] : []),
      ...(charRisk === "line centres" ? ["solid parts char on the centres of its lines"] : []),
      ...(charRisk === "everywhere" ? ["solid parts char"] : []),
    ];
    const remedy =
      harms.length > 1 || !leavesGaps ? "Less power or more lines avoid it" : "More lines close them";
    return `On ${material} ${harms.join(", and ")}. ${remedy}.`;
  },
  "steep-material": ({ material, matched }: Figures<"matched"> & Texts<"material">) =>
    `This material (${material}) is steep, either bare or fully marked: where lines overlap, a small change of dose shifts whole tones, so a density beyond the matched ${densityWords(matched)} gains little that holds.`,
  "steep-overlap": ({ material, matched, toneShift }: Figures<"matched" | "toneShift"> & Texts<"material">) =>
    `This material (${material}) is steep, either bare or fully marked: beyond the matched ${densityWords(matched)} lines overlap, and a small change of dose shifts whole tones, here by about ${fixed(toneShift, 1)} L*. Make a proof first.`,
  "gradual-material": ({ material, matched }: Figures<"matched"> & Texts<"material">) =>
    `This material (${material}) is gradual: lines that overlap add up to tones in between, so it pays to go beyond the matched ${densityWords(matched)}.`,
};

/** Why a coating is stripped at this density. */
const stripReasons = {
  "lines-meet": ({
    markMm,
    from,
    referenceLinesPerInch,
    meetLinesPerInch,
    margin,
    neededLinesPerInch,
  }: Figures<"markMm" | "referenceLinesPerInch" | "meetLinesPerInch" | "margin" | "neededLinesPerInch"> & {
    readonly from: "measured" | "threshold" | "spot";
  }) => {
    const mark = {
      measured: `A line marks ${mmWords(markMm)} as measured`,
      threshold: `A line at the power and speed that give a solid fill full tone at ${Math.round(referenceLinesPerInch)} lines per inch exceeds the coating's threshold over ${mmWords(markMm)}`,
      spot: `A line is assumed to mark as much as the spot, ${mmWords(markMm)}`,
    }[from];
    return `${mark}, so lines meet at ${linesWords(Math.ceil(meetLinesPerInch))}; ${percentWords(margin)} of overlap as a margin makes it ${densityWords(Math.ceil(neededLinesPerInch - 1e-6))}.`;
  },
  "none-overlaps": ({ linesPerInch, gapMm }: Figures<"linesPerInch" | "gapMm">) =>
    `None of the densities offered is as high; ${linesWords(linesPerInch)}, the highest, leaves ${gapMm > 0 ? `strips of ${mmWords(gapMm)}` : "less than that margin"}.`,
  "lowest-with-overlap": ({ linesPerInch, seconds, offered }: NamedRow & { readonly offered: boolean }) =>
    `${linesWords(linesPerInch)} is the lowest density ${offered ? "offered " : ""}with that overlap and takes ${durationWords(seconds)}.`,
  "saves-against": ({ other, chosen }: Readonly<Record<"other" | "chosen", NamedRow>>) =>
    `${linesWords(other.linesPerInch)} would take ${timesWords(other.seconds / chosen.seconds)} as long (${durationWords(other.seconds)}) for the same clean surface: choosing ${densityWords(chosen.linesPerInch)} saves ${durationWords(other.seconds - chosen.seconds)}.`,
  "strip-late": ({ minutes }: Figures<"minutes">) =>
    `That exceeds the ${minutes} min allowed, but a lower density leaves coating behind.`,
};

/** Why a shade is filled at this density. */
const shadeReasons = {
  "tone-out-of-reach": ({ linesPerInch, ...tone }: Tone & Figures<"linesPerInch">) =>
    `No density reaches ${toneWords(tone)}: all leave bare strips between their lines. ${linesWords(linesPerInch)} comes nearest.`,
  "tone-chars": ({
    material,
    charDose,
    dose,
    peakDose,
    linesPerInch,
    ...tone
  }: Tone & Figures<"charDose" | "dose" | "peakDose" | "linesPerInch"> & Texts<"material">) =>
    `${toneWords(tone)} needs a dose of ${fixed(dose, 2)} and ${material} chars from ${charDose}: no density reaches it without char. ${linesWords(linesPerInch)} comes nearest, with ${fixed(peakDose, 2)} on the centres of its lines.`,
  "tone-nearest": ({
    minutes,
    linesPerInch,
    seconds,
    ...tone
  }: Tone &
    NamedRow & {
      /** The limit that none meets; absent if no lines touch. */
      readonly minutes?: number | undefined;
    }) =>
    `Of the densities that reach ${toneWords(tone)} without char, ${minutes === undefined ? "none of those offered lets its lines touch" : `none takes no more than ${minutes} min`}; ${linesWords(linesPerInch)} comes nearest (${durationWords(seconds)}).`,
  "tone-quickest": ({
    linesPerInch,
    knowsChar,
    ...tone
  }: Tone & Figures<"linesPerInch"> & { readonly knowsChar: boolean }) =>
    `${linesWords(linesPerInch)} is the quickest that reaches ${toneWords(tone)} with lines that touch${knowsChar ? " and none of it charred" : ""}.`,
  "tone-dose": ({
    dose,
    peakDose,
    charDose,
  }: Figures<"dose" | "peakDose"> & { readonly charDose?: number | undefined }) =>
    `It needs a mean dose of ${fixed(dose, 2)}, ${fixed(peakDose, 2)} on the centres of its lines${charDose === undefined ? "" : `; char starts at ${charDose}`}.`,
  "power-to-set": (
    told: Figures<
      | "powerFactor"
      | "referenceLinesPerInch"
      | "jobSpeedMmPerS"
      | "seconds"
      | "speedMmPerS"
      | "secondsAtSpeed"
    > & { readonly powerPercent?: number | undefined },
    { units }: Reader,
  ) => {
    const [asked, there] = [told.jobSpeedMmPerS, told.speedMmPerS].map((speed) => speedWords(speed, units));
    const [time, timeThere] = [told.seconds, told.secondsAtSpeed].map(durationWords);
    return told.powerPercent !== undefined
      ? `Set ${powerPercentWords(told.powerPercent)} at ${asked} (${time}), or ${powerPercentWords(told.powerPercent / told.powerFactor)} at ${there} (${timeThere}).`
      : `Set ${fixed(told.powerFactor, 2)} × the power that gives a solid fill at ${Math.round(told.referenceLinesPerInch)} lines per inch and ${asked} full tone (${time}), or that power at ${there} (${timeThere}).`;
  },
  "lower-chars": ({ linesPerInch }: Figures<"linesPerInch">) =>
    `At ${linesWords(linesPerInch)} the same tone would char the centres of the lines.`,
};

/** The reasons for a plan's recommendation. */
export const { tell: because, say: sayReason } = catalogue({
  ...lensReasons,
  ...photoReasons,
  ...stripReasons,
  ...shadeReasons,
});

export type Reason = ReturnType<typeof because>;
