import { defaultLinesPerInch } from "../../../core/default-density.js";
import { densityWords } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { warning } from "./rule.js";
import { steadierOf, steadierWords } from "./steadier.js";

/** From this multiple of the default density, overlapping lines on a steep material make its tones swing with the dose. */
const FRAGILE_OVER_DEFAULT = 1.3;
/** Tone shift in L* that a proof beside the piece shows at once. A piece that was judged and stays below it is no case. */
const SWINGS = 2;
/** Visual error at nominal dose that an eye at the viewing distance sees as grain. */
const VISIBLE = 1;

/** A ruling below this share of the default is coarse, and the user's own choice. */
const COARSE_RULING = 0.9;
/** Below this period in spot diameters the spot fills the gaps between dots. */
const MIN_PERIOD_SPOTS = 1.5;

interface Grain {
  readonly viewDistanceMm: number;
  readonly visualErrorRms: number;
  /** Rows of dots per inch of a coarse clustered-dot screen, and those of the default. */
  readonly ruling?: number;
  readonly usualRuling?: number;
}

/** Tones that are wrong, or may become wrong. */
export const toneWarnings = {
  "steep-at-overdrive": warning({
    title: "Tones depend on the dose",
    when: ({ job, prediction, facts }) => {
      const { kind, overdrive, linesPerInch, spotAcrossMm } = job;
      const usualLinesPerInch = defaultLinesPerInch(spotAcrossMm, facts);
      return (
        kind === "photo" &&
        facts.materialShape === "steep" &&
        !(prediction && prediction.toneShift < SWINGS) &&
        linesPerInch >= FRAGILE_OVER_DEFAULT * usualLinesPerInch && {
          ...{ overdrive, usualLinesPerInch },
          steadier: steadierOf(job),
        }
      );
    },
    happens: ({ overdrive }) =>
      `The material is steep, and the spot is ${fixed(overdrive, 1)} times as wide as the pitch (the overdrive): the lines overlap so much that tones swing with the dose.`,
    whatToDo({ usualLinesPerInch, steadier }, reader) {
      const or = steadier ? `, or ${steadierWords(steadier, reader)}` : "";
      return `Take about ${Math.round(usualLinesPerInch)} lines per inch${or}. Hold power and focus steady.`;
    },
  }),
  "visible-grain": warning({
    title: "The dots will show",
    when: ({ job: { kind, compensated, viewDistanceMm }, prediction, facts: { screen } }) =>
      prediction &&
      prediction.visualErrorRms > VISIBLE &&
      compensated &&
      kind === "photo" && {
        ...{ viewDistanceMm, visualErrorRms: prediction.visualErrorRms },
        ...(screen &&
          screen.askedLinesPerInch < COARSE_RULING * screen.usualLinesPerInch && {
            ruling: screen.askedLinesPerInch,
            usualRuling: screen.usualLinesPerInch,
          }),
      },
    happens: ({ viewDistanceMm, visualErrorRms }: Grain) =>
      `From ${fixed(viewDistanceMm, 0)} mm away the dots will show as grain (${fixed(visualErrorRms, 1)} L* rms).`,
    whatToDo: ({ ruling, usualRuling }, reader) =>
      ruling !== undefined && usualRuling !== undefined
        ? `The screen is coarse: ${densityWords(ruling)} rows of dots per inch, where this spot can hold ${densityWords(usualRuling)}. Raise ${reader.option("screenLinesPerInch")}, unless you like it.`
        : `Raise the density or try another ${reader.option("method")} to make the grain finer, unless you like it.`,
  }),
  "not-searched": warning({
    title: "Not searched",
    when: ({ job: { search } }) => search?.passes === 0 && { start: search.startBitmap ?? search.start },
    happens: ({ start }) =>
      `The time was over before the first pass of the search was, so the piece is as ${start} left it.`,
    whatToDo: (_, reader) => `Raise ${reader.option("searchSeconds")}, or leave it out.`,
  }),
  uncompensated: warning({
    title: "Tones or edges not compensated",
    when: ({ job: { compensated, kind } }) => !compensated && { kind },
    happens: ({ kind }) =>
      `${kind === "photo" ? "Tones are not compensated" : "Edges are not moved"} for spot and material, so they will come out wrong.`,
    whatToDo: ({ kind }, reader) =>
      `Remove ${reader.setting("compensate", false)}${kind === "photo" ? "" : ` and ${reader.setting("method", "threshold")}`}, unless you want it so.`,
  }),
  "screen-too-fine": warning({
    title: "A screen too fine for its dots",
    when: ({ job: { kind }, facts: { screen } }) =>
      kind === "photo" && screen && (screen.isDispersed || screen.periodSpots < MIN_PERIOD_SPOTS) && screen,
    happens({ askedLinesPerInch, cellPx, periodSpots, isDispersed }) {
      const ruling = `A screen of ${densityWords(askedLinesPerInch)} lines per inch is too fine here`;
      return isDispersed
        ? `${ruling}: a dot would have ${fixed(cellPx, 1)} pixels. The dots fall apart into single pixels, and tones come out like those of scattered dots.`
        : `${ruling}: its dots are ${fixed(periodSpots, 1)} spots apart, so the spot runs them together, and tones come out like those of scattered dots.`;
    },
    whatToDo: ({ fittingLinesPerInch }, reader) =>
      `Lower ${reader.option("screenLinesPerInch")} to ${densityWords(fittingLinesPerInch)} or less, or set ${reader.setting("method", "auto")}.`,
  }),
  "method-drops-tone": warning({
    title: "A halftone that loses tones",
    when: ({ job: { kind, method }, facts }) => kind === "photo" && !facts.methodKeepsMean && { method },
    happens: ({ method }) => `The ${method} method does not keep all tones: highlights or shadows may clip.`,
    whatToDo: (_, reader) => `Set ${reader.setting("method", "auto")}, unless you want this look.`,
  }),
};
