import type { Report, Warning } from "../report.js";

/** Held tones that levels must add, in the mean of a fine and a coarse detail, to be worth setting up. */
const WORTH_HAVING = 1.1;
const JUDGED_DETAILS_MM = [0.25, 1];
/** Share of the whole change in lightness within one step that is worth telling. */
const COARSE_STEP = 0.25;
/** A step between flat tints, in L*, that an eye can see. */
const VISIBLE_STEP = 1;

/** What a user should know of a piece with more than two power levels. */
export function levelWarnings(
  { job, powerLevels, tonalResolution }: Pick<Report, "job" | "powerLevels" | "tonalResolution">,
  shape: "steep" | "gradual",
): Warning[] {
  if (!powerLevels) return [];
  const { largestStepLightness, largestStepShare, largestSwingLightness, onOff, onOffMethod } = powerLevels;
  const warnings: Warning[] = [];
  const compared = JUDGED_DETAILS_MM.flatMap((mm) => {
    const [withLevels, without] = [tonalResolution, onOff].map((all) =>
      all?.find(({ detailMm }) => detailMm === mm),
    );
    return withLevels && without ? [{ mm, held: withLevels.held, before: without.held }] : [];
  });
  const gain = compared.reduce((product, { held, before }) => (product * held) / before, 1);
  if (compared.length > 0 && gain ** (1 / compared.length) < WORTH_HAVING) {
    const instead = onOffMethod && onOffMethod !== job.method ? ` (${onOffMethod})` : "";
    const tones = compared.map(
      ({ mm, held, before }) =>
        `a ${mm} mm detail holds ${held.toFixed(1)} tones, with on and off${instead} ${before.toFixed(1)}`,
    );
    const step = `${Math.round(100 * largestStepShare)} % of all change in lightness lies between two neighbouring levels`;
    const swings = `fill at part power swings by up to ${largestSwingLightness.toFixed(0)} L* with it${largestStepShare > COARSE_STEP ? `, and ${step}` : ""}`;
    const why =
      shape === "steep" ? `${job.material} changes too suddenly with the dose: a ${swings}` : `A ${swings}`;
    warnings.push({
      code: "levels-no-gain",
      message: `${job.levels} power levels do not pay here if the dose wanders by ${Math.round(100 * job.doseSpread)} %: ${tones.join("; ")}. ${why}. Leave --levels at 2, or give a smaller --dose-spread if your dose is steadier.`,
    });
  }
  if (job.method === "threshold" && largestStepLightness > VISIBLE_STEP) {
    warnings.push({
      code: "levels-band",
      message: `Neighbouring power levels are up to ${largestStepLightness.toFixed(1)} L* apart, so soft shades may show bands. --method floyd-steinberg mixes neighbouring levels.`,
    });
  }
  return warnings;
}
