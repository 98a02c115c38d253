import { wholePercent } from "../../core/words.js";
import type { Report } from "../report.js";

type Fidelity = NonNullable<Report["fidelity"]>;

export type LossCause = keyof Fidelity["lost"];

/** Share of the picture whose loss is worth a warning. */
const MUCH = 0.05;
/** A smaller loss is worth it if it is this share of all that the picture shows. */
const MUCH_OF_ALL = 0.25;
/** Share of the picture from which a loss is mentioned or drawn. */
export const WORTH_A_WORD = 0.005;

/** What happens to the distinctions, as the end of "20 % …". */
export const lossWords: Readonly<Record<LossCause, string>> = {
  levels: "clipped or flattened by levels, brightness, contrast or gamma",
  bare: "merged into the bare surface",
  solid: "merged into solid fill",
  faint: "too faint for what material, spot and dose can show",
  colours: "of different colours that become one tone",
};

export const losesMuch = ({ lostShare, distinctShare }: Fidelity): boolean =>
  lostShare >= MUCH || (lostShare >= WORTH_A_WORD && lostShare >= MUCH_OF_ALL * distinctShare);

/** The causes that are worth a word, the largest first. */
export const mainCauses = (lost: Fidelity["lost"]): LossCause[] =>
  (Object.keys(lost) as LossCause[])
    .filter((cause) => lost[cause] >= WORTH_A_WORD)
    .sort((a, b) => lost[b] - lost[a]);

/** `20 % clipped or flattened by levels, brightness, contrast or gamma` */
export const lossInWords = (lost: Fidelity["lost"]): string[] =>
  mainCauses(lost).map((cause) => `${wholePercent(lost[cause])} ${lossWords[cause]}`);
