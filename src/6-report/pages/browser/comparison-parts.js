import { all, find } from "./page-parts.js";

/**
 * @typedef {{ head: string, values: (number | string)[], shown: string[], more: boolean }} Figure values by candidate, empty
 *   where there is none
 * @typedef {{ left: number, top: number, width: number, height: number }} Part in shares of the piece
 * @typedef {{ widthMm: number, heightMm: number, names: string[], figures: Figure[], part: Part,
 *   detail: { x: number, y: number }, finestColumns: number, fill: [number, number], first: [number, number] }} Data see
 *   comparisonPage; fill: shares of a view that the whole piece fills
 * @typedef {ReturnType<typeof findParts>} Parts
 */

/** What the scripts of a comparison's page act on. */
export function findParts() {
  const root = find(document, ".comparison", HTMLElement);
  /** @type {Data} */
  const data = JSON.parse(root.dataset.comparison ?? "");
  const sheet = find(root, ".sheet", HTMLOListElement);
  const plots = all(root, ".bars", HTMLElement);
  const says = find(root, "#view-says", HTMLOutputElement);
  const section = root.querySelector("#two");
  return {
    ...{ root, data, sheet, plots },
    cards: all(sheet, ".card", HTMLLIElement),
    /** By plot and candidate, whatever the order they stand in. */
    plottedBars: plots.map((plot) => all(plot, ".bar", HTMLElement)),
    /** Absent where there is one candidate only. */
    pair:
      section instanceof HTMLElement ? { section, stage: find(section, ".stage", HTMLElement) } : undefined,
    /** @param {string} text */
    tell(text) {
      if (says.textContent !== text) says.textContent = text;
    },
  };
}
