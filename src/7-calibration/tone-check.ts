import { medianOf } from "../core/median.js";
import { monotoneCubic } from "../core/monotone-cubic.js";
import { lightnessFromLuminance } from "../core/physics/lightness.js";

/** A tone of a check card: what was asked for, predicted and seen. Luminance factors. */
export interface SeenTone {
  readonly name: string;
  readonly wanted: number;
  /** At each of the doses. */
  readonly predicted: readonly number[];
  /** Of each of its patches that can be used. */
  readonly measured: readonly number[];
  /** Number of the others. */
  readonly hidden: number;
}

export interface JudgedTone {
  readonly name: string;
  readonly wanted: number;
  readonly predicted: number;
  readonly measured: number;
  readonly difference: number;
  readonly tolerance: number;
  /** Standard error of what was measured, in L*. */
  readonly error: number;
  readonly verdict: "within" | "too-dark" | "too-light";
  readonly patches: number;
  readonly spoilt: number;
}

export interface JudgedTones {
  readonly verdict: "within" | "dose" | "shape";
  readonly dose: {
    readonly factor: number;
    readonly isLimit?: true;
    /** Whether it explains what the tones are off. */
    readonly explains: boolean;
    readonly offBefore: number;
    readonly offAfter: number;
  };
  readonly steps: readonly JudgedTone[];
}

/** An eye that compares two pieces side by side hardly sees a smaller difference, in L*. */
const LEAST_TOLERANCE = 2;
/** Standard errors of a step's mean. If they alone decide, a right tone falls outside in one card of twenty-six. */
const ERRORS = 3;
/** Patches farther from the median of their step, in standard deviations, are spoilt. */
const SPOILT = 5;
/** Repeats of one tone always differ a little: below this, in L*, none of them is spoilt. */
const LEAST_SCATTER = 0.5;
/** A dose explains the tones if it leaves no more than this share of what they are off, and what errors of reading leave. */
const EXPLAINED = 0.35;
/** What tones are off by chance, in L*: a camera, uneven light and the grain of wood do as much. */
const WORTH_EXPLAINING = 0.5;

/**
 * Whether tones came out as predicted, and if not, whether another dose explains them.
 *
 * @param doses over the nominal one, rising, with 1 among them
 */
export function judgeTones(tones: readonly SeenTone[], doses: readonly number[]): JudgedTones {
  const nominal = doses.indexOf(1);
  const steps = tones.map((tone) => judged(tone, tone.predicted[nominal]));
  const curves = tones.map(({ predicted }) =>
    monotoneCubic(doses.map(Math.log), predicted.map(lightnessFromLuminance)),
  );
  const seen = steps.map(({ measured }) => lightnessFromLuminance(measured));
  const offAt = (factor: number): number => rms(curves.map((curve, k) => seen[k] - curve(Math.log(factor))));
  const [lowest, highest] = [doses[0], doses[doses.length - 1]];
  const factor = leastAt(offAt, lowest, highest);
  const [offBefore, offAfter] = [offAt(1), offAt(factor)];
  const isLimit = factor < lowest * 1.01 || factor > highest / 1.01;
  const left = Math.hypot(EXPLAINED * offBefore, rms(steps.map(({ error }) => error)));
  const explains = offBefore > WORTH_EXPLAINING && offAfter <= left;
  const isWithin = steps.every(({ verdict }) => verdict === "within");
  return {
    verdict: isWithin ? "within" : explains ? "dose" : "shape",
    dose: { factor, ...(isLimit && { isLimit }), explains, offBefore, offAfter },
    steps,
  };
}

/** One tone: the mean of the patches that agree, against the prediction at the nominal dose. */
function judged({ name, wanted, measured, hidden }: SeenTone, predicted: number): JudgedTone {
  const lightness = measured.map(lightnessFromLuminance);
  const middle = medianOf(lightness);
  const scatter = Math.max(
    LEAST_SCATTER,
    1.4826 * medianOf(lightness.map((each) => Math.abs(each - middle))),
  );
  const good = measured.filter((_, k) => Math.abs(lightness[k] - middle) <= SPOILT * scatter);
  const mean = good.reduce((sum, each) => sum + each, 0) / good.length;
  const difference = lightnessFromLuminance(mean) - lightnessFromLuminance(predicted);
  const error = scatter / Math.sqrt(good.length);
  const tolerance = Math.max(LEAST_TOLERANCE, ERRORS * error);
  return {
    ...{ name, wanted, predicted, measured: mean, difference, tolerance, error },
    verdict: Math.abs(difference) <= tolerance ? "within" : difference < 0 ? "too-dark" : "too-light",
    patches: measured.length + hidden,
    spoilt: measured.length + hidden - good.length,
  };
}

const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, each) => sum + each * each, 0) / values.length);

/** Doses that are tried first, in equal ratios, and halvings of the step after that. */
const TRIED = 60;
const HALVINGS = 12;

/** Where a function of a dose is least. A grid finds the valley, so that a second one does no harm. */
function leastAt(of: (dose: number) => number, lowest: number, highest: number): number {
  const at = (share: number): number => lowest * (highest / lowest) ** Math.min(1, Math.max(0, share));
  let best = 0;
  for (let k = 1; k <= TRIED; k++) if (of(at(k / TRIED)) < of(at(best))) best = k / TRIED;
  let step = 1 / TRIED;
  for (let k = 0; k < HALVINGS; k++) {
    step /= 2;
    for (const share of [best - step, best + step]) if (of(at(share)) < of(at(best))) best = share;
  }
  return at(Math.min(1, Math.max(0, best)));
}
