import type { CharRiskFacts } from "../../core/material/char-risk.js";
import type { MaterialDoubt } from "../../core/material/material-doubts.js";
import { catalogue, type Figures, type Texts } from "../../core/told.js";
import { densityWords, durationWords, mmWords } from "../../core/words.js";
import { type IdleFacts, idleOption } from "./idle-option.js";
import { fixed, sayMatter } from "./matter.js";
import { linesWords, type NamedRow, timesWords } from "./plan-reasons.js";
import { type PowerFigures, powerTooWeak, powerVeryLow } from "./power-words.js";
import {
  charRisk,
  LARGER_PHOTO,
  type LineGaps,
  lineGaps,
  materialDoubtful,
  materialIllustrative,
  nothingToSee,
  perhapsArtwork,
  type RunUp,
  runUpDominates,
} from "./shared-matters.js";
import { type VaryingDose, varyingDoseWords } from "./variation-words.js";

/** How useful tones fall as the density rises. */
interface Fall {
  readonly best: { readonly linesPerInch: number; readonly useful: number };
  readonly worst: { readonly linesPerInch: number; readonly useful: number };
  /** What takes most tones; absent if the dose is steady. */
  readonly cause?: VaryingDose;
}

interface SmallPhoto {
  readonly pxPerMm: number;
  /** The detail at which densities are compared, if the usual one is too fine for the photo. */
  readonly comparedMm?: number;
  /** Otherwise: the density from which the photo is the limit. */
  readonly fromLinesPerInch?: number;
}

const fallWords = ({ best, worst }: Fall): string =>
  `useful tones fall from ${fixed(best.useful, 1)} at ${densityWords(best.linesPerInch)} to ${fixed(worst.useful, 1)} at ${linesWords(worst.linesPerInch)}`;

/** What a varying dose does to the tones of a steep material where lines overlap. */
const STEEP_EFFECT = {
  common: "a shift of whole tones",
  local: "blotches that hide the steps between tones",
  line: "streaks that hide the steps between tones",
} as const;

/** Why denser lines have fewer useful tones. */
function whySteepFalls({ cause }: Fall): string {
  if (!cause) return "The halftone is coarser there.";
  return `On a steep material overlapping lines turn ${varyingDoseWords(cause)} into ${STEEP_EFFECT[cause.part]}.`;
}

function whyGradualFalls({ cause }: Fall): string {
  if (!cause) return "The halftone is coarser there.";
  return `Overlapping lines pass ${varyingDoseWords(cause)} on to every tone.`;
}

/** The notes of a plan; the codes are those of `PlanNote`. */
export const { tell: noted, say: sayNote } = catalogue({
  "solid-artwork": (_: object, reader) =>
    `The picture is solid artwork, a logo or lettering in two tones: it is engraved solid, without dots, so tones do not decide. Any density at which edges look smooth will do. Prepare it with ${reader.setting("kind", "solid")} and leave ${reader.option("linesPerInch")} out: the report says if edges need more lines. This plan holds only for dots, with ${reader.setting("kind", "photo")}.`,
  "looks-like-artwork": (told: { readonly severalInks: boolean }, reader) =>
    `${perhapsArtwork.happens(told, reader)} This plan is for dots. If it is artwork that should be solid, prepare it with ${reader.setting("kind", "solid")}: then tones do not decide. If dots are right, set ${reader.setting("kind", "photo")}.`,
  "nothing-to-see": (_: object, reader) => sayMatter(nothingToSee, {}, reader),
  "time-saved": ({ other, chosen }: Readonly<Record<"other" | "chosen", NamedRow>>) =>
    `This saves ${durationWords(other.seconds - chosen.seconds)} against ${linesWords(other.linesPerInch)}, which take ${timesWords(other.seconds / chosen.seconds)} as long.`,
  "photo-too-small": ({ pxPerMm, comparedMm, fromLinesPerInch }: SmallPhoto) =>
    comparedMm === undefined
      ? `From ${linesWords(fromLinesPerInch ?? 0)} up the photo itself (${fixed(pxPerMm, 1)} pixels per mm) limits the detail: more lines gain tones, not detail.`
      : `The photo is coarse for this size: ${fixed(pxPerMm, 1)} pixels per mm cannot show a 0.25 mm detail, so densities are compared by details of about ${fixed(comparedMm, 2)} mm. ${LARGER_PHOTO}`,
  "steep-density-worse": ({ material, ...fall }: Fall & Texts<"material">) =>
    `More density is worse on ${material}: ${fallWords(fall)}. ${whySteepFalls(fall)}`,
  "tones-fall": (fall: Fall) =>
    `More density is not always better: ${fallWords(fall)}. ${whyGradualFalls(fall)}`,
  "char-risk": (facts: CharRiskFacts, reader) => sayMatter(charRisk, facts, reader),
  "line-gaps": (gaps: LineGaps, reader) => sayMatter(lineGaps, gaps, reader),
  "power-too-weak": (power: PowerFigures, reader) => sayMatter(powerTooWeak, power, reader),
  "power-very-low": (power: PowerFigures, reader) => sayMatter(powerVeryLow, power, reader),
  "other-work": ({ material, shape }: Texts<"material"> & { readonly shape: "steep" | "gradual" }, reader) =>
    shape === "gradual"
      ? `${material} is gradual: it darkens with the dose and has no coating to strip. For a solid tone on it set ${reader.setting("kind", "shade")}.`
      : `${material} is steep: it is either bare or fully marked and holds no tone in between. To strip a coating set ${reader.setting("kind", "strip")}.`,
  "option-idle": (facts: IdleFacts, reader) => sayMatter(idleOption, facts, reader),
  "best-case-optics": ({ spotMm }: Figures<"spotMm">, reader) =>
    `The spot of ${mmWords(spotMm)} is the best case, for a perfect beam (${reader.setting("propagationRatio", 1)}) and a perfect lens (${reader.setting("lensShape", "ideal")}). A real one is larger: give both, or measure the spot.`,
  "run-up-dominates": (runUp: RunUp, reader) => sayMatter(runUpDominates, runUp, reader),
  "built-in-target": () =>
    "Without a photo, tones and visual error are those of a built-in picture of ramps and textures, and run times are those of a full rectangle. Give the photo to get its own.",
  "material-illustrative": (told: Texts<"material">, reader) => sayMatter(materialIllustrative, told, reader),
  "material-doubtful": (doubt: MaterialDoubt, reader) => sayMatter(materialDoubtful, doubt, reader),
});

export type Note = ReturnType<typeof noted>;
