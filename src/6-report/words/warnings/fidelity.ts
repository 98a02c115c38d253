import type { Reader } from "../../../core/reader.js";
import { wholePercent } from "../../../core/words.js";
import type { Report } from "../../report.js";
import { type LossCause, losesMuch, lossInWords, mainCauses } from "../fidelity-words.js";
import { NOT_AS_DRAWN } from "./artwork.js";
import { type Judged, warning } from "./rule.js";

/** With distinctions on a smaller share of it, a picture is empty. */
const EMPTY = 0.001;

type Loss = Pick<NonNullable<Report["fidelity"]>, "lostShare" | "lost"> & {
  readonly kind: Report["job"]["kind"];
  /** Tones that the user changed by hand. */
  readonly adjusted: boolean;
  readonly autoTone: boolean;
  readonly material: string;
};

function lossOf({ fidelity, job, edges, prediction, facts }: Judged): Loss | false | undefined {
  if (!fidelity || !losesMuch(fidelity)) return;
  // "Not quite as drawn" tells the same of a drawing.
  if (edges && prediction && prediction.visualErrorRms > NOT_AS_DRAWN) return;
  const { lostShare, lost } = fidelity;
  const { kind, autoTone, material } = job;
  return { lostShare, lost, kind, autoTone, material, adjusted: facts.adjustsTones };
}

/** What helps against the largest cause. */
function remedy(cause: LossCause, { kind, adjusted, autoTone, material }: Loss, reader: Reader): string {
  if (cause === "levels" && adjusted) {
    return `Bring ${reader.option("brightness")}, ${reader.option("contrast")} and ${reader.option("gamma")} nearer to their defaults.`;
  }
  if (cause === "levels") {
    return autoTone
      ? `Lower ${reader.option("clipPercent")}, or keep the photo's own tones with ${reader.setting("autoTone", false)}.`
      : `Remove ${reader.setting("autoTone", false)}.`;
  }
  if (kind === "solid") return `To keep them as tones, set ${reader.setting("kind", "photo")}.`;
  const wider = `Raise ${reader.option("contrast")} or ${reader.option("localContrast")}`;
  if (cause === "faint")
    return `${wider}, make the piece larger, or take a material with a wider range than ${material}.`;
  return `${reader.setting("method", "auto")} takes a halftone that keeps tones. ${wider} if it does so already.`;
}

/** What becomes of the photo. */
export const fidelityWarnings = {
  "nothing-to-see": warning({
    title: "Nothing to see in the picture",
    when: ({ fidelity, coverage, job, facts }) =>
      fidelity &&
      job.kind === "photo" &&
      !facts.hasTransparency &&
      coverage.burnFraction > 0 &&
      fidelity.distinctShare < EMPTY &&
      {},
    happens: () =>
      "There is nothing to see in the picture: it is of one tone, or its tones are so near each other that an eye takes them for one. The piece becomes an even tint, or shows only noise.",
    whatToDo: () => "Check that it is the right file.",
  }),
  "distinctions-lost": warning({
    title: "Parts of the picture are lost",
    when: lossOf,
    happens: ({ lostShare, lost }: Loss) =>
      `On ${wholePercent(lostShare)} of the picture, differences that the photo shows are gone: ${lossInWords(lost).join("; ")}.`,
    whatToDo: (loss: Loss, reader) =>
      `The report page shows where. ${remedy(mainCauses(loss.lost)[0], loss, reader)}`,
  }),
};
