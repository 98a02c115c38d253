import type { Reader } from "../../core/reader.js";
import { libraryReader } from "../../core/reader.js";
import type { Report, Warning, WarningCode } from "../report.js";
import { sayMatter } from "./matter.js";
import { artworkWarnings } from "./warnings/artwork.js";
import { detailWarnings } from "./warnings/detail.js";
import { fidelityWarnings } from "./warnings/fidelity.js";
import { levelWarnings } from "./warnings/levels.js";
import { doseWarnings, lineWarnings, speedWarnings } from "./warnings/lines.js";
import { doubtWarnings, materialWarnings } from "./warnings/material.js";
import { optionWarnings } from "./warnings/options.js";
import { photoWarnings } from "./warnings/photo.js";
import { pictureWarnings } from "./warnings/picture.js";
import { powerWarnings } from "./warnings/power.js";
import { roundWarnings } from "./warnings/round.js";
import type { WarningFacts, WarningRule } from "./warnings/rule.js";
import { toneWarnings } from "./warnings/tone.js";
import { variationWarnings } from "./warnings/variation.js";

export type { ScreenFacts, WarningFacts } from "./warnings/rule.js";

/** Every warning, in the order of a report. */
export const warningRules: Readonly<Record<WarningCode, WarningRule<object>>> = {
  ...doubtWarnings,
  ...powerWarnings,
  ...pictureWarnings,
  ...fidelityWarnings,
  ...photoWarnings,
  ...artworkWarnings,
  ...levelWarnings,
  ...lineWarnings,
  ...roundWarnings,
  ...doseWarnings,
  ...detailWarnings,
  ...toneWarnings,
  ...variationWarnings,
  ...speedWarnings,
  ...optionWarnings,
  ...materialWarnings,
};

/** The warnings of a report. */
export function warningsFor(
  report: Omit<Report, "warnings">,
  facts: WarningFacts,
  reader: Reader = libraryReader,
): Warning[] {
  const judged = { ...report, facts };
  const codes = Object.keys(warningRules) as WarningCode[];
  return codes.flatMap((code) => {
    const found = warningRules[code].when(judged) || [];
    return [found].flat().map((data) => sayWarning({ code, data }, reader));
  });
}

/** A warning in the words for a reader. */
export const sayWarning = ({ code, data }: Omit<Warning, "message">, reader: Reader): Warning => ({
  code,
  message: sayMatter(warningRules[code], data, reader),
  data,
});
