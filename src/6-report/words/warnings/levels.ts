import { type DoseWithin, largestWithin } from "../../../core/spread.js";
import { wholePercent } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { deviationWords } from "../variation-words.js";
import { type Judged, warning } from "./rule.js";

/** Held tones that levels must add, in the mean of a fine and a coarse detail, to be worth setting up. */
const WORTH_HAVING = 1.1;
const JUDGED_DETAILS_MM = [0.25, 1];
/** Minimum share of the whole change in lightness within one step that is mentioned. */
const COARSE_STEP = 0.25;
/** A step between flat tints, in L*, that an eye can see. */
const VISIBLE_STEP = 1;

interface NoGain extends DoseWithin {
  readonly material: string;
  readonly steep: boolean;
  readonly levels: number;
  readonly details: readonly { readonly mm: number; readonly held: number; readonly before: number }[];
  /** The halftone of the piece with the beam on or off, if it is another. */
  readonly onOffMethod?: string;
  readonly stepShare: number;
  readonly swingLightness: number;
}

function noGain({ job, powerLevels, tonalResolution, facts }: Judged): NoGain | undefined {
  if (!powerLevels) return;
  const { onOff, onOffMethod, largestStepShare, largestSwingLightness } = powerLevels;
  const details = JUDGED_DETAILS_MM.flatMap((mm) => {
    const [withLevels, without] = [tonalResolution, onOff].map((all) =>
      all?.find(({ detailMm }) => detailMm === mm),
    );
    return withLevels && without ? [{ mm, held: withLevels.held, before: without.held }] : [];
  });
  const gain = details.reduce((product, { held, before }) => (product * held) / before, 1);
  if (details.length === 0 || gain ** (1 / details.length) >= WORTH_HAVING) return;
  return {
    material: job.material,
    steep: facts.materialShape === "steep",
    levels: job.levels,
    ...largestWithin(job.spread),
    details,
    ...(onOffMethod && onOffMethod !== job.method && { onOffMethod }),
    stepShare: largestStepShare,
    swingLightness: largestSwingLightness,
  };
}

const FROM = { local: "from place to place", line: "from line to line" } as const;

type Swing = Pick<NoGain, "material" | "steep" | "part" | "deviation" | "stepShare" | "swingLightness">;

/** What the varying dose does to a fill at part power. */
function swingWords({ material, steep, part, deviation, stepShare, swingLightness }: Swing): string {
  const share = deviationWords(deviation);
  const step = `, and ${wholePercent(stepShare)} of all change in lightness lies between two neighbouring levels`;
  const swings = `fill at part power changes by up to ${fixed(swingLightness, 0)} L* between doses of −${share} and +${share}, the standard deviation ${FROM[part]}${stepShare > COARSE_STEP ? step : ""}`;
  return steep ? `${material} changes too suddenly with the dose: a ${swings}` : `A ${swings}`;
}

/** Pieces with more than two power levels. */
export const levelWarnings = {
  "levels-no-gain": warning({
    title: "Power levels gain nothing here",
    when: noGain,
    happens({ levels, part, deviation, details, onOffMethod, ...swing }) {
      const instead = onOffMethod === undefined ? "" : ` (${onOffMethod})`;
      const tones = details.map(
        ({ mm, held, before }) =>
          `a ${mm} mm detail holds ${fixed(held, 1)} tones, with on and off${instead} ${fixed(before, 1)}`,
      );
      const nothing = `${levels} power levels gain nothing here`;
      if (deviation === 0) return `${nothing}: ${tones.join("; ")}.`;
      return `${nothing}, because the dose varies within the piece: ${tones.join("; ")}. ${swingWords({ part, deviation, ...swing })}.`;
    },
    whatToDo: (_, reader) =>
      `Leave ${reader.option("levels")} at 2. If your dose is steadier, give smaller figures in ${reader.option("spread")}.`,
  }),
  "levels-band": warning({
    title: "Power levels may show as bands",
    when: ({ job, powerLevels }) =>
      powerLevels &&
      job.method === "threshold" &&
      powerLevels.largestStepLightness > VISIBLE_STEP && { stepLightness: powerLevels.largestStepLightness },
    happens: ({ stepLightness }) =>
      `Neighbouring power levels are up to ${fixed(stepLightness, 1)} L* apart, so soft shades may show bands.`,
    whatToDo: (_, reader) =>
      `Set ${reader.setting("method", "floyd-steinberg")}, which mixes neighbouring levels.`,
  }),
};
