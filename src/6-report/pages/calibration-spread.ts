import type { Calibration } from "../calibration.js";
import { cardRows, spreadWords } from "../words/spread-words.js";
import { tableHtml, termsHtml } from "./html-parts.js";

/** How the machine varies, and the cards that told. */
export function calibrationSpreadHtml(calibration: Calibration): string {
  const terms = spreadWords(calibration.spread).map(([name, words]) => [name, words] as const);
  const spread = `<section class="small"><h2>How your machine varies</h2><p>Standard deviations. Only several cards tell what changes from piece to piece.</p>${termsHtml(terms)}</section>`;
  return calibration.cards.length < 2 ? spread : `${spread}<section>${cardsHtml(calibration)}</section>`;
}

const cardsHtml = (calibration: Calibration): string =>
  tableHtml(
    "Cards that were read together, each beside the first",
    [
      { head: "code", words: true },
      { head: "pictures", words: true },
      { head: "dose meant" },
      { head: "dose, against that" },
      { head: "spot" },
    ],
    cardRows(calibration),
  );
