import type { Reader } from "../../../core/reader.js";
import { mmWords, wholePercent } from "../../../core/words.js";
import type { Report } from "../../report.js";
import { type LossCause, losesMuch, lossInWords, mainCauses } from "../fidelity-words.js";
import { nothingToSee } from "../shared-matters.js";
import { NOT_AS_DRAWN } from "./artwork.js";
import { type Judged, warning } from "./rule.js";

/** With distinctions on a smaller share of it, a picture is empty. */
const EMPTY = 0.001;

interface Merged {
  readonly colours: readonly string[];
  readonly share: number;
  readonly kind: Report["job"]["kind"];
}

type Loss = Pick<NonNullable<Report["fidelity"]>, "lostShare" | "lost"> & {
  readonly kind: Report["job"]["kind"];
  /** Tones that the user changed by hand. */
  readonly adjusted: boolean;
  readonly autoTone: boolean;
  /** Whether the halftone keeps all tones. */
  readonly keepsTones: boolean;
  readonly material: string;
  /** Bare strip between two lines. */
  readonly gapMm: number;
};

function lossOf({ fidelity, job, edges, prediction, coverage, facts }: Judged): Loss | false | undefined {
  // Colours that merge have a warning of their own.
  const others = fidelity && { ...fidelity, lostShare: fidelity.lostShare - fidelity.lost.colours };
  if (!others || !losesMuch(others)) return;
  // "Not quite as drawn" tells the same of a drawing.
  if (edges && prediction && prediction.visualErrorRms > NOT_AS_DRAWN) return;
  const { lostShare } = others;
  const lost = { ...others.lost, colours: 0 };
  const { kind, autoTone, material } = job;
  return {
    lostShare,
    lost,
    kind,
    autoTone,
    material,
    gapMm: coverage.gapMm,
    adjusted: facts.adjustsTones,
    keepsTones: facts.methodKeepsMean,
  };
}

/** What helps against the largest cause. */
function remedy(
  cause: LossCause,
  { kind, adjusted, autoTone, keepsTones, material, gapMm }: Loss,
  reader: Reader,
): string {
  if (cause === "levels" && adjusted) {
    return `Bring ${reader.option("brightness")}, ${reader.option("contrast")} and ${reader.option("gamma")} nearer to their defaults.`;
  }
  if (cause === "levels") {
    return autoTone
      ? `Lower ${reader.option("clipPercent")}, or keep the photo's own tones with ${reader.setting("autoTone", false)}.`
      : `Remove ${reader.setting("autoTone", false)}.`;
  }
  if (kind === "solid") return `To keep them as tones, set ${reader.setting("kind", "photo")}.`;
  if (cause === "faint" && gapMm > 0) {
    return `Raise ${reader.option("linesPerInch")} first: bare strips of ${mmWords(gapMm)} between the lines stay as they are, so there are fewer tones to tell apart.`;
  }
  const wider = `Raise ${reader.option("contrast")} or ${reader.option("localContrast")}`;
  if (cause === "faint")
    return `${wider}, make the piece larger, or take a material with a wider range than ${material}.`;
  return keepsTones
    ? `${wider}.`
    : `Set ${reader.setting("method", "auto")}, which takes a halftone that keeps tones.`;
}

/** What becomes of the photo. */
export const fidelityWarnings = {
  "nothing-to-see": warning({
    ...nothingToSee,
    when: ({ fidelity, coverage, job, facts }) =>
      fidelity &&
      job.kind === "photo" &&
      !facts.hasTransparency &&
      coverage.burnFraction > 0 &&
      fidelity.distinctShare < EMPTY &&
      {},
  }),
  "colours-merge": warning({
    title: "Colours become one tone",
    when: ({ job: { kind }, facts }) => facts.mergedColours.map((merged) => ({ ...merged, kind })),
    happens: ({ colours, share, kind }: Merged) =>
      `The colours ${colours.join(" and ")} become one tone, so ${wholePercent(share)} of the picture can no longer be told apart: ${kind === "solid" ? "a drawing is engraved as ink or bare surface, without tones between" : "they are equally light, or the material shows too few tones between them"}.`,
    whatToDo: ({ kind }: Merged, reader) =>
      kind === "solid"
        ? `To give each colour its own tone, set ${reader.setting("kind", "photo")}. If all of them should burn alike, leave it.`
        : "Make one of the colours clearly lighter or darker in the drawing, or draw a bare line between them.",
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
