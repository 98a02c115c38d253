import type { Comparison } from "../comparison.js";
import type { Column } from "../words/comparison-columns.js";
import { headOf, numberedName, shownValue, tellingFigures } from "../words/comparison-words.js";
import { type BarScale, barScale } from "./bar-scale.js";
import { escapeHtml } from "./html-page.js";
import { foldedHtml } from "./html-parts.js";

/** A small plot for each figure: a bar for each candidate, in the order of the sheet. */
export function plotsHtml(comparison: Comparison): string {
  const plots = tellingFigures(comparison).map((column) => plotHtml(comparison, column));
  return foldedHtml(
    "Figure by figure",
    `<p class="small">A bar for each candidate, in the order of the sheet<span class="live-only screen">; a heading sorts by its figure, a bar brings its candidate to the slider</span>. A bar with an arrow goes on beyond the plot: its value is named below.</p><div class="bars-of-all">${plots.join("\n")}</div>`,
  );
}

function plotHtml(comparison: Comparison, column: Column): string {
  // The values as shown: a value that rounds to zero has no bar.
  const shown = comparison.candidates.map((one) => shownValue(column, one));
  const values = shown.map((text) => (text === "" ? Number.NaN : Number(text)));
  const scale = barScale(values.filter((value) => !Number.isNaN(value)));
  const bars = values.map((value, k) => {
    const said = `${numberedName(comparison, k)}: ${shown[k] || "none"}`;
    return `<span class="bar" title="${escapeHtml(said)}">${barHtml(value, scale)}</span>`;
  });
  const told = (k: number): string => `${shown[k]} (${numberedName(comparison, k)})`;
  const caption = captionOf(values, scale, told);
  const head = escapeHtml(headOf(column));
  const lines = caption.map((line) => `<span>${escapeHtml(line)}</span>`).join(" ");
  return `<figure class="plot"><h3><button type="button" class="sorts" data-head="${head}">${head}</button></h3><div class="bars" role="img" aria-label="${head}: ${escapeHtml(caption.join("; "))}" style="--zero:${percent(scale.shareOf(0))}">${bars.join("")}</div><figcaption>${lines}</figcaption></figure>`;
}

const percent = (share: number): string => `${Number((100 * share).toFixed(2))}%`;

/** A bar from zero to its value. One that is cut has an arrow at its end. */
function barHtml(value: number, { shareOf, isFar }: BarScale): string {
  if (Number.isNaN(value)) return "<i></i>";
  const [from, to] = [shareOf(Math.min(0, value)), shareOf(Math.max(0, value))];
  const far = isFar(value) ? ` class="far ${value < 0 ? "below" : "above"}"` : "";
  return `<i${far} style="bottom:${percent(from)};height:${percent(to - from)}"></i>`;
}

/** The extremes among the bars that fit, and the bars that are cut, each on a line of its own. */
function captionOf(values: readonly number[], { isFar }: BarScale, told: (k: number) => string): string[] {
  const known = [...values.keys()].filter((k) => !Number.isNaN(values[k]));
  const near = known.filter((k) => !isFar(values[k]));
  const far = known.filter((k) => isFar(values[k]));
  const lowest = near.reduce((a, b) => (values[b] < values[a] ? b : a));
  const highest = near.reduce((a, b) => (values[b] > values[a] ? b : a));
  const range =
    values[lowest] === values[highest]
      ? [`${far.length > 0 ? "the others" : "all"} ${told(lowest).replace(/ \(.*/, "")}`]
      : [
          `lowest ${far.some((k) => values[k] < 0) ? "that fits " : ""}${told(lowest)}`,
          `highest ${far.some((k) => values[k] > 0) ? "that fits " : ""}${told(highest)}`,
        ];
  return [...range, ...(far.length > 0 ? [`beyond the plot: ${far.map(told).join(", ")}`] : [])];
}
