import type { Calibration } from "../calibration.js";
import { changeWords, responseChangeWords } from "../words/calibration-changes.js";
import { escapeHtml } from "./html-page.js";
import { listHtml, tableHtml } from "./html-parts.js";

/** What a card changed against what was believed before, and how sure each figure is. */
export function calibrationChangesHtml(calibration: Calibration): string {
  const rows = changeWords(calibration);
  const table = tableHtml(
    "What changed, and how sure it is",
    [
      { head: "figure", words: true },
      { head: "now", words: true },
      { head: "nine times in ten", words: true },
      { head: "before", words: true },
      { head: "change", words: true },
    ],
    rows.map(({ name, now, sure, before, change }) => [name, now, sure, before, change]),
  );
  return `<section>${table}<p class="quiet">${escapeHtml(`${responseChangeWords(calibration)} ${AGREES}`)}</p></section>`;
}

const AGREES =
  "“Within the band” means that the figure before lies in the band of the new one. Times are sure if what the beam travels meanwhile is known to a twentieth of the spot.";

/** Sections of what to do; an empty one is left out. */
export const adviceHtml = (
  sections: readonly (readonly [title: string, sentences: readonly string[]])[],
): string =>
  sections
    .filter(([, sentences]) => sentences.length > 0)
    .map(([title, sentences]) => `<section><h2>${escapeHtml(title)}</h2>${listHtml(sentences)}</section>`)
    .join("");
