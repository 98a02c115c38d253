import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import type { Calibration, CalibrationFigures, ChangedFigure, LearntFigure } from "../calibration.js";
import { fixed } from "./matter.js";

/** How a figure is written. */
interface Shown {
  readonly name: string;
  readonly unit: string;
  readonly digits: number;
}

const SHOWN: readonly (readonly [ChangedFigure, Shown])[] = [
  ["spotAlongMm", { name: "spot along", unit: " mm", digits: 3 }],
  ["spotAcrossMm", { name: "spot across", unit: " mm", digits: 3 }],
  ["firingLagUs", { name: "firing lag", unit: " µs", digits: 0 }],
  ["firingLossUs", { name: "firing loss", unit: " µs", digits: 0 }],
  ["lineShiftMm", { name: "line shift", unit: " mm", digits: 3 }],
  ["lineExponent", { name: "line exponent", unit: "", digits: 2 }],
];

/** A figure before and now, in words. */
export interface ChangeWords {
  readonly name: string;
  readonly before: string;
  readonly now: string;
  /** `within the band`, `+0.012 mm`, `kept`. */
  readonly change: string;
  /** How sure the new one is. */
  readonly sure: string;
}

/** What a card changed, figure by figure. */
export const changeWords = (figures: CalibrationFigures): ChangeWords[] =>
  SHOWN.map(([figure, shown]) => changeOf(figure, shown, figures));

function changeOf(
  figure: ChangedFigure,
  { name, unit, digits }: Shown,
  figures: CalibrationFigures,
): ChangeWords {
  const now = figures[figure];
  const { value, from } = figures.before.figures[figure];
  return {
    name,
    before: `${signedNumber(value, digits)}${unit}, ${from === undefined ? "assumed" : from}`,
    now: now.learnt ? `${signedNumber(now.value, digits)}${unit}` : "as before",
    change: changeIn(now, value, { unit, digits }),
    sure: surenessWords(figure, { unit, digits }, figures),
  };
}

function changeIn(now: LearntFigure, before: number, { unit, digits }: Omit<Shown, "name">): string {
  if (!now.learnt) return "kept";
  if (before >= now.low && before <= now.high) return "within the band";
  const change = now.value - before;
  return `${change > 0 ? "+" : ""}${signedNumber(change, digits)}${unit}`;
}

/** Half of a band over what it is compared with: up to these it is sure, or fairly sure. */
const SURE = 0.05;
const FAIRLY_SURE = 0.15;

/** How sure a figure is, in plain words, and its band: `sure, 0.096 to 0.104 mm`. */
function surenessWords(
  figure: ChangedFigure,
  { unit, digits }: Pick<Shown, "unit" | "digits">,
  figures: CalibrationFigures,
): string {
  const { low, high, learnt } = figures[figure];
  if (!learnt) return "not told by this card";
  const half = (high - low) / 2;
  const share = half / scaleOf(figure, figures);
  const word = share <= SURE ? "sure" : share <= FAIRLY_SURE ? "fairly sure" : "rough";
  return `${word}, ${signedNumber(low, digits)} to ${signedNumber(high, digits)}${unit}`;
}

/** What a figure counts against: a time by how far the beam goes meanwhile, in spots. */
function scaleOf(figure: ChangedFigure, figures: CalibrationFigures): number {
  const { spotAlongMm, spotAcrossMm, speedMmPerS } = figures;
  switch (figure) {
    case "spotAcrossMm":
      return spotAcrossMm.value;
    case "firingLagUs":
    case "firingLossUs":
      return spotAlongMm.value / (speedMmPerS * 1e-6);
    case "lineExponent":
      return 1;
    default:
      return spotAlongMm.value;
  }
}

/** With a sign that can be read, and none on a zero. */
const signedNumber = (value: number, digits: number): string =>
  fixed(value, digits)
    .replace(/^-(?=.*[1-9])/, "−")
    .replace(/^-/, "");

/** What a card changed in the response, in a sentence. */
export function responseChangeWords({ response, before }: Pick<Calibration, "response" | "before">): string {
  const changes = response.map(({ dose, luminance }, k) => ({
    dose,
    off: lightnessFromLuminance(luminance) - lightnessFromLuminance(before.response[k].luminance),
  }));
  const rms = Math.sqrt(changes.reduce((sum, { off }) => sum + off * off, 0) / changes.length);
  const most = changes.reduce((a, b) => (Math.abs(b.off) > Math.abs(a.off) ? b : a));
  return `The response differs from that of ${before.material} by ${fixed(rms, 1)} L* on average, and most at dose ${fixed(most.dose, 2)}: there it is ${fixed(Math.abs(most.off), 1)} L* ${most.off < 0 ? "darker" : "lighter"}.`;
}
