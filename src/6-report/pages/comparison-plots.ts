import type { Comparison } from "../comparison.js";
import type { Column } from "../words/comparison-columns.js";
import { headOf, numberedName, shownValue, tellingFigures } from "../words/comparison-words.js";
import { escapeHtml } from "./html-page.js";

/** A small plot for each figure: a bar for each candidate, in the order of the sheet. */
export function plotsHtml(comparison: Comparison): string {
  const plots = tellingFigures(comparison).map((column) => plotHtml(comparison, column));
  return `<section aria-labelledby="plots-head"><h2 id="plots-head">Figure by figure</h2><p class="small">A bar for each candidate, in the order of the sheet<span class="live-only screen">; a heading sorts by its figure, a bar brings its candidate to the slider</span>.</p><div class="bars-of-all">${plots.join("\n")}</div></section>`;
}

function plotHtml(comparison: Comparison, column: Column): string {
  // The values as shown: a value that rounds to zero has no bar.
  const shown = comparison.candidates.map((one) => shownValue(column, one));
  const values = shown.map((text) => (text === "" ? Number.NaN : Number(text)));
  const known = values.filter((value) => !Number.isNaN(value));
  const [min, max] = [Math.min(...known), Math.max(...known)];
  const [low, high] = [Math.min(0, min), Math.max(0, max)];
  const share = (value: number): number =>
    high === low ? 0 : Number(((100 * (value - low)) / (high - low)).toFixed(2));
  const bars = values.map((value, k) => {
    const said = `${numberedName(comparison, k)}: ${shown[k] || "none"}`;
    const [from, to] = Number.isNaN(value) ? [0, 0] : [share(Math.min(0, value)), share(Math.max(0, value))];
    return `<span class="bar" title="${escapeHtml(said)}"><i style="bottom:${from}%;height:${Number((to - from).toFixed(2))}%"></i></span>`;
  });
  const told = (value: number): string => {
    const k = values.indexOf(value);
    return `${shown[k]} (${numberedName(comparison, k)})`;
  };
  const caption =
    min === max ? `all ${shown[values.indexOf(min)]}` : `lowest ${told(min)}, highest ${told(max)}`;
  const head = escapeHtml(headOf(column));
  return `<figure class="plot"><h3><button type="button" class="sorts" data-head="${head}">${head}</button></h3><div class="bars" role="img" aria-label="${head}: ${escapeHtml(caption)}" style="--zero:${share(0)}%">${bars.join("")}</div><figcaption>${escapeHtml(caption)}</figcaption></figure>`;
}
