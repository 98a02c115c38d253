import type { Column } from "./comparison-columns.js";
import { EXPECTED_MEANS, TONE_SHIFT_MEANS, UNEVENNESS_MEANS } from "./variation-words.js";

/** What some figures of a comparison mean, in few words. */
export interface Term {
  readonly term: string;
  readonly means: string;
  /** Starts of the keys of its columns. */
  readonly keys: readonly string[];
}

const terms: readonly Term[] = [
  {
    term: "error",
    means:
      "how far the piece differs from the wanted one, as an eye sees it, with dose and spot as set (nominal); 1 is just noticeable",
    keys: ["visualErrorRms"],
  },
  {
    term: "expected",
    means: `the same on a machine that varies: ${EXPECTED_MEANS}`,
    keys: ["expectedVisualError"],
  },
  { term: "uneven", means: UNEVENNESS_MEANS, keys: ["unevenness"] },
  { term: "tone shift", means: TONE_SHIFT_MEANS, keys: ["toneShift"] },
  {
    term: "dose or spot, − or +",
    means: "the error if the whole piece gets that much less or more of it than set",
    keys: ["visualErrorUnder", "visualErrorOver", "visualErrorSmaller", "visualErrorLarger"],
  },
  {
    term: "bias",
    means: "mean difference in lightness: above 0 the piece comes out lighter than wanted, below 0 darker",
    keys: ["visualErrorBias"],
  },
  {
    term: "grain",
    means: "how much the lightness that an eye sees fluctuates in a flat tint; 1 is just noticeable",
    keys: ["graininess"],
  },
  {
    term: "peak over principal",
    means: "1 if the dots are spread evenly, less if they form clusters",
    keys: ["peakOverPrincipal"],
  },
  {
    term: "low power",
    means: "coarse part of the pattern of dots: 0 if they are spread evenly, 1 if they lie at random",
    keys: ["lowFrequencyPower"],
  },
  {
    term: "anisotropy",
    means: "how much the pattern has a direction; 0 dB is none",
    keys: ["anisotropyDb"],
  },
  {
    term: "held",
    means:
      "tones that stay apart in a detail of that size although the dose varies; empty if the method makes fewer tints",
    keys: ["heldAt"],
  },
  { term: "burned share", means: "share of the pixels that burn", keys: ["burnFraction"] },
  {
    term: "switched",
    means: "how often the beam goes on or off in a line; a slow source blurs every change",
    keys: ["transitionsPerLine"],
  },
  {
    term: "burst",
    means:
      "a stretch of a line with the beam on; also in time constants of the source (lag) and over the loss of each burst (at 1 or less it leaves no mark)",
    keys: ["shortestBurst", "meanBurst"],
  },
  { term: "beam on", means: "share of the run time with the beam on", keys: ["beamOnShare"] },
  { term: "run time", means: "time of the machine, with its run-up", keys: ["seconds"] },
];

/** The terms of these columns, each once. */
export const termsOf = (columns: readonly Column[]): readonly Term[] =>
  terms.filter(({ keys }) => columns.some(({ key }) => keys.some((start) => key.startsWith(start))));
