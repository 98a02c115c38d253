import { DEFAULT_OVERDRIVE } from "../../../core/density-limits.js";
import { byToneRange } from "../../../core/material/tone-range.js";
import { fixed } from "../matter.js";
import { warning } from "./rule.js";
import { CLUSTERED } from "./variation.js";

/**
 * From this overdrive, overlapping lines on a steep material make its tones swing with the dose. Near the border to gradual ones it
 * keeps its ratio to the default density.
 */
const FRAGILE_OVERDRIVE = 1.5;
const FRAGILE_OVER_DEFAULT = FRAGILE_OVERDRIVE / DEFAULT_OVERDRIVE.steep;
/** Tone shift in L* that a proof beside the piece shows at once. A piece that was judged and stays below it is no case. */
const SWINGS = 2;
/** Visual error at nominal dose that an eye at the viewing distance sees as grain. */
const VISIBLE = 1;

/** Tones that are wrong, or may become wrong. */
export const toneWarnings = {
  "steep-at-overdrive": warning({
    title: "Tones depend on the dose",
    when: ({ job: { kind, method, overdrive, matchedLinesPerInch }, prediction, facts }) =>
      kind === "photo" &&
      facts.materialShape === "steep" &&
      !(prediction && prediction.toneShift < SWINGS) &&
      overdrive >= FRAGILE_OVER_DEFAULT * byToneRange(facts.toneRange, DEFAULT_OVERDRIVE) && {
        ...{ overdrive, matchedLinesPerInch },
        dotsHelp: !CLUSTERED.includes(method),
      },
    happens: ({ overdrive }) =>
      `The material is steep, and the spot is ${fixed(overdrive, 1)} times as wide as the pitch (the overdrive): the lines overlap so much that tones swing with the dose.`,
    whatToDo({ matchedLinesPerInch, dotsHelp }, reader) {
      const dots = `, or a method whose dots hang together: ${reader.setting("method", "clustered-dot")} or ${reader.setting("method", "green-noise")}`;
      return `Take about ${Math.round(matchedLinesPerInch)} lines per inch${dotsHelp ? dots : ""}. Hold power and focus steady.`;
    },
  }),
  "visible-grain": warning({
    title: "The dots will show",
    when: ({ job: { kind, compensated, viewDistanceMm }, prediction }) =>
      prediction &&
      prediction.visualErrorRms > VISIBLE &&
      compensated &&
      kind === "photo" && { viewDistanceMm, visualErrorRms: prediction.visualErrorRms },
    happens: ({ viewDistanceMm, visualErrorRms }) =>
      `From ${fixed(viewDistanceMm, 0)} mm away the dots will show as grain (${fixed(visualErrorRms, 1)} L* rms).`,
    whatToDo: (_, reader) =>
      `Raise the density or try another ${reader.option("method")} to make the grain finer, unless you like it.`,
  }),
  uncompensated: warning({
    title: "Tones or edges not compensated",
    when: ({ job: { compensated, kind } }) => !compensated && { kind },
    happens: ({ kind }) =>
      `${kind === "photo" ? "Tones are not compensated" : "Edges are not moved"} for spot and material, so they will come out wrong.`,
    whatToDo: ({ kind }, reader) =>
      `Remove ${reader.setting("compensate", false)}${kind === "photo" ? "" : ` and ${reader.setting("method", "threshold")}`}, unless you want it so.`,
  }),
  "method-drops-tone": warning({
    title: "A halftone that loses tones",
    when: ({ job: { kind, method }, facts }) => kind === "photo" && !facts.methodKeepsMean && { method },
    happens: ({ method }) => `The ${method} method does not keep all tones: highlights or shadows may clip.`,
    whatToDo: (_, reader) => `Set ${reader.setting("method", "auto")}, unless you want this look.`,
  }),
};
