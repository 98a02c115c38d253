import { defaultLinesPerInch } from "../../../core/default-density.js";
import type { Spread } from "../../../core/spread.js";
import { fixed } from "../matter.js";
import { deviationWords } from "../variation-words.js";
import { type Judged, warning } from "./rule.js";
import { type Steadier, steadierOf, steadierWords } from "./steadier.js";

/** Tone shift of three times a just noticeable difference, in L*. */
const DOSE_SENSITIVE = 3;
/** The dose of the whole piece must be the cause: at least this share of the squared shift. */
const DUE_TO_DOSE = 0.5;
/** Unevenness that the machine adds, in L*: it shows, but it is no more than the grain of a coarse halftone. */
const UNEVEN = 1.5;
/** From this overdrive, dots that hang together let less of a varying dose through. */
const DENSE = 1.25;
/** From this multiple of the default density, fewer lines do so on a steep material. */
const DENSER = 1.1;

/** Parts of the variation that no power setting corrects. */
const UNCORRECTED = ["local", "line", "spot"] as const;
type Uncorrected = (typeof UNCORRECTED)[number];

interface Uneven {
  /** Unevenness that those parts add together, and that the piece has with dose and spot as set. */
  readonly added: number;
  readonly nominal: number;
  readonly largest: Uncorrected;
  readonly deviation: number;
  readonly steadier?: Steadier | undefined;
  /** A lower density is of use. */
  readonly usualLinesPerInch?: number;
}

function unevenDose({ job, prediction, facts }: Judged): Uneven | undefined {
  if (!prediction) return;
  const { unevenness, variation } = prediction;
  const squared = (part: keyof typeof variation): number => variation[part].unevenness ** 2;
  const uncorrected = UNCORRECTED.reduce((sum, part) => sum + squared(part), 0);
  const added = Math.sqrt(uncorrected);
  const nominal = Math.sqrt(Math.max(0, unevenness ** 2 - uncorrected - squared("common")));
  if (added <= Math.max(UNEVEN, nominal)) return;
  const largest = UNCORRECTED.reduce((most, part) => (squared(part) > squared(most) ? part : most));
  const { kind, overdrive, linesPerInch } = job;
  const usualLinesPerInch = defaultLinesPerInch(job.spotAcrossMm, facts);
  const denser = linesPerInch > DENSER * usualLinesPerInch;
  return {
    ...{ added, nominal, largest, deviation: job.spread[largest] },
    steadier: kind === "photo" && overdrive > DENSE ? steadierOf(job) : undefined,
    ...(kind === "photo" && denser && facts.materialShape === "steep" && { usualLinesPerInch }),
  };
}

/** What a part does, with its standard deviation in words. */
const EFFECT: Readonly<Record<Uncorrected, (deviation: string) => string>> = {
  local: (deviation) => `blotches, because the dose differs by ${deviation} from place to place`,
  line: (deviation) => `streaks, because the dose differs by ${deviation} from line to line`,
  spot: (deviation) => `grain, because the spot may be ${deviation} smaller or larger than set`,
};

/** What the owner of a machine can do about a part. */
const REMEDY: Readonly<Record<Uncorrected, string>> = {
  local: "a clean, flat bed, so that the focus is the same everywhere",
  line: "clean rails and a source that has warmed up, so that lines are alike",
  spot: "a clean lens and a focus that is set anew for each piece",
};

/** What a machine that varies does to a piece. */
export const variationWarnings = {
  "dose-sensitive": warning({
    title: "Dose-sensitive",
    when: ({ job: { spread }, prediction }) => {
      if (!prediction) return;
      const { toneShift, variation } = prediction;
      const shift = variation.common.toneShift;
      return (
        toneShift > DOSE_SENSITIVE &&
        shift ** 2 >= DUE_TO_DOSE * toneShift ** 2 && { deviation: spread.common, shift }
      );
    },
    happens: ({ deviation, shift }: { readonly deviation: Spread["common"]; readonly shift: number }) =>
      `This piece is dose-sensitive: if its dose is off by one standard deviation (${deviationWords(deviation)}), the whole piece comes out lighter or darker by about ${fixed(shift, 1)} L*, and 1 is just noticeable side by side.`,
    whatToDo: () =>
      "Make a proof first: burn a part of the photo on the same batch, compare it with the preview, and correct the power before the real piece.",
  }),
  "uneven-dose": warning({
    title: "Uneven where the dose varies",
    when: unevenDose,
    happens: ({ added, nominal, largest, deviation }, reader) =>
      `On a machine that varies as ${reader.option("spread")} says, this piece comes out uneven, and no change of power corrects that: the variation adds ${fixed(added, 1)} L* to the ${fixed(nominal, 1)} of the halftone itself, and 1 is just noticeable. The largest part is ${EFFECT[largest](deviationWords(deviation))}.`,
    whatToDo({ largest, steadier, usualLinesPerInch }, reader) {
      const helps = [
        ...(steadier ? [steadierWords(steadier, reader)] : []),
        ...(usualLinesPerInch === undefined
          ? []
          : [`fewer lines per inch, nearer ${Math.round(usualLinesPerInch)}`]),
        REMEDY[largest],
      ];
      const first = helps.map((each, k) => (k === 0 ? each : `or ${each}`)).join("; ");
      return `Try ${first}. If your machine is better than that, give smaller figures in ${reader.option("spread")}.`;
    },
  }),
};
