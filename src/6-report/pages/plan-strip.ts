import { sizeWords } from "../../core/shown-units.js";
import { densityWords, durationWords } from "../../core/words.js";
import type { DetailPicture } from "../pictures/detail-picture.js";
import { dataAddress } from "../pictures/page-picture.js";
import type { Plan } from "../plan.js";
import { escapeHtml } from "./html-page.js";

/** Enlargement over life size where there is room. */
const ENLARGED = 6;

/**
 * The same detail at each density, from the fewest lines to the most, with the choice marked.
 *
 * @param pictures by row; empty if none were made
 */
export function stripHtml(plan: Plan, pictures: readonly DetailPicture[]): string {
  if (pictures.length === 0) return "";
  const { rows, recommended, lenses } = plan;
  const items = rows.map((row, k) => {
    const { file, widthMm, heightMm } = pictures[k];
    const density = `${densityWords(row.linesPerInch)} lines per inch`;
    const lens = lenses.length > 1 ? `, ${lenses[row.lens].name}` : "";
    const isChosen = k === recommended.row;
    const chosen = isChosen ? ' <span class="win">chosen</span>' : "";
    return `<li${isChosen ? ' class="chosen"' : ""}><img src="${dataAddress("image/jpeg", file)}" alt="${escapeHtml(`The detail at ${density}${lens}, as predicted`)}" style="--shown:${Number((ENLARGED * widthMm).toFixed(2))}mm;aspect-ratio:${widthMm / heightMm}"><p><strong>${densityWords(row.linesPerInch)}</strong> ${escapeHtml(`lines per inch${lens}, ${durationWords(row.seconds)}`)}${chosen}</p></li>`;
  });
  return `<section><h2>The same detail at each density</h2><ol class="strip">${items.join("\n")}</ol>
<p class="small">Each shows ${sizeWords(pictures[0], plan.units)} of the ${plan.job.photo === "" ? "built-in picture" : "photo"} as predicted, enlarged, where it has most detail. Step back to judge tones: from afar the dots blend.</p></section>`;
}
