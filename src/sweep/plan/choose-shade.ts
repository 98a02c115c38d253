import type { PlanRow, ShadeSetting } from "../../6-report/plan.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { durationWords } from "../../core/words.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { type Candidates, type Choice, leastBy, linesOf, withinTime } from "./choice.js";

type Shaded = PlanRow & { readonly shade: ShadeSetting };

const isShaded = (row: PlanRow): row is Shaded => row.shade !== undefined;

/**
 * The quickest density that reaches the wanted tone with lines that touch and no point of them charred. At each density the
 * tone is a matter of energy per line, so that power or speed makes up for the density; what density does change is how far
 * the centres of the lines stick out of the mean.
 */
export function chooseShade(candidates: Candidates, lightness: number): Choice {
  const { material, options, rows } = candidates;
  const { charDose } = material;
  const tone = `L* ${lightness.toFixed(0)}`;
  const reaching = rows.filter(isShaded);
  const whatWouldChangeIt = [
    charDose === undefined
      ? `Nobody has said at which dose ${material.name} chars: put charDose into a material file, and densities whose line centres char are left out.`
      : `The dose at which your ${material.name} really chars (charDose in a material file, here ${charDose}).`,
    `Another tone (--darkness, here ${Math.round(100 * options.darkness)}%): a fainter one needs less dose and allows a lower density.`,
  ];
  if (reaching.length === 0) {
    const row = rows[rows.length - 1];
    const reason = `No density reaches ${tone}: all leave bare strips between their lines. ${linesOf(row)} comes nearest.`;
    return { row, meetsLimits: false, reason, whatWouldChangeIt, notes: [] };
  }
  const unharmed = reaching.filter(({ charRisk }) => charRisk === undefined || charRisk === "none");
  if (unharmed.length === 0) {
    const row = leastBy(reaching, ({ shade }) => shade?.peakDose ?? 0) as Shaded;
    const reason = `${tone} needs a dose of ${row.shade.dose.toFixed(2)} and ${material.name} chars from ${charDose}: no density reaches it without char. ${linesOf(row)} comes nearest, with ${row.shade.peakDose.toFixed(2)} on the centres of its lines.`;
    return { row, meetsLimits: false, reason, whatWouldChangeIt, notes: [] };
  }
  const touching = unharmed.filter(({ gapMm }) => gapMm === 0);
  const allowed = withinTime(touching, options);
  if (allowed.length === 0) {
    const row = leastBy(touching.length > 0 ? touching : unharmed, ({ seconds }) => seconds) as Shaded;
    const fault =
      touching.length === 0
        ? "none of the densities offered lets its lines touch"
        : `none keeps to ${options.minutes} min`;
    const reason = `Of the densities that reach ${tone} without char ${fault}; ${linesOf(row)} comes nearest (${durationWords(row.seconds)}). ${settingWords(row, candidates)}`;
    return { row, meetsLimits: false, reason, whatWouldChangeIt, notes: [] };
  }
  const row = leastBy(allowed, ({ seconds }) => seconds) as Shaded;
  const below = reaching.find(({ charRisk }) => charRisk === "line centres");
  const reason = [
    `${linesOf(row)} is the quickest that reaches ${tone} with lines that touch${charDose === undefined ? "" : " and none of it charred"}.`,
    `It needs a mean dose of ${row.shade.dose.toFixed(2)}, ${row.shade.peakDose.toFixed(2)} on the centres of its lines${charDose === undefined ? "" : `; char starts at ${charDose}`}.`,
    settingWords(row, candidates),
    below ? `At ${linesOf(below)} the same tone would char the centres of the lines.` : "",
  ];
  return {
    row,
    meetsLimits: true,
    reason: reason.filter(Boolean).join(" "),
    whatWouldChangeIt: [
      ...whatWouldChangeIt,
      "Other densities give the same tone at the power or speed in their row: a higher one is smoother across the lines and takes longer at the same speed.",
    ],
    notes: [],
  };
}

function settingWords({ shade, seconds }: Shaded, { lens, material, options }: Candidates): string {
  const reference = Math.round(linesPerInchFromPitchMm(referencePitchMm(lens.spot, material)));
  return `Set ${shade.powerFactor.toFixed(2)} × the power that gives a solid fill at ${reference} lines per inch and ${Math.round(options.speedMmPerS)} mm/s full tone (${durationWords(seconds)}), or that power at ${Math.round(shade.speedMmPerS)} mm/s (${durationWords(shade.secondsAtSpeed)}).`;
}
