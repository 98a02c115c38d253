import type { Candidate, Comparison } from "../comparison.js";
import type { CandidatePictures } from "../pictures/candidate-pictures.js";
import { dataAddress } from "../pictures/page-picture.js";
import type { Column } from "../words/comparison-columns.js";
import { badgesOf, headOf, numberedName, shownValue, tellingFigures } from "../words/comparison-words.js";
import { escapeHtml } from "./html-page.js";

/** The content of a view: the piece, and on it the part with single dots. Style variables set the place of the view. */
export function planeHtml(pictures?: CandidatePictures, alt = ""): string {
  const image = (kind: string, address?: string, place = "", words = ""): string =>
    `<img class="${kind}"${place} alt="${escapeHtml(words)}" draggable="false"${address ? ` src="${address}"` : ""}>`;
  if (!pictures) {
    return `<span class="plane">${image("whole")}${image("near marks")}${image("near dots")}<span class="reach"></span></span>`;
  }
  const { whole, closeUp } = pictures;
  const { left, top, width, height } = closeUp.part;
  const share = (value: number): string => `${Number((100 * value).toFixed(4))}%`;
  const place = ` style="left:${share(left)};top:${share(top)};width:${share(width)};height:${share(height)}"`;
  return `<span class="plane">${image("whole", dataAddress("image/jpeg", whole), "", alt)}${image("near marks", dataAddress("image/jpeg", closeUp.marks), place)}${image("near dots", dataAddress("image/png", closeUp.dots), place)}<span class="reach"${place}></span></span>`;
}

export function cardsHtml(comparison: Comparison, pictures: readonly CandidatePictures[]): string {
  const { candidates } = comparison;
  const figures = tellingFigures(comparison);
  const cards = candidates.map((one, k) => {
    const name = numberedName(comparison, k);
    const badges = badgesOf(comparison, k).map((words) => `<span class="win">${words}</span>`);
    return `<li class="card" id="candidate-${k + 1}"><button type="button" class="view" aria-pressed="false">${planeHtml(pictures[k], `${name}, as predicted`)}</button>
<p class="badges"><span class="side screen"></span>${badges.join(" ")}</p>
<h3>${escapeHtml(name)}</h3>
${figuresHtml(
  figures.filter(({ more }) => !more),
  one,
)}
<details><summary>More figures</summary>${figuresHtml(
      figures.filter(({ more }) => more),
      one,
    )}</details></li>`;
  });
  return `<ol class="sheet">${cards.join("\n")}</ol>`;
}

function figuresHtml(figures: readonly Column[], one: Candidate): string {
  const items = figures.map(
    (column) =>
      `<div data-head="${escapeHtml(headOf(column))}"><dt>${escapeHtml(headOf(column))}</dt><dd>${escapeHtml(shownValue(column, one)) || "–"}</dd></div>`,
  );
  return `<dl class="figures">${items.join("")}</dl>`;
}

/** The controls for all pictures: zoom, the close view, and the order. */
export function toolsHtml(columns: readonly Column[]): string {
  const options = columns.map((column, c) => `<option value="${c}">${escapeHtml(headOf(column))}</option>`);
  return `<div class="tools live-only screen" role="group" aria-label="All pictures">
<span class="zooming"><button type="button" data-zoom="out" aria-label="Zoom out">−</button><input type="range" class="zoom" min="0" max="100" step="1" value="0" aria-label="Zoom"><button type="button" data-zoom="in" aria-label="Zoom in">+</button><button type="button" data-zoom="whole">Whole</button><button type="button" data-zoom="dots">Dots</button></span>
<label>close up <select class="kind"><option value="marks">the marks</option><option value="dots">pixels that burn</option></select></label>
<label>sort by <select class="order"><option value="">order of the request</option>${options.join("")}</select></label><button type="button" class="way" disabled>lowest first</button>
<output id="view-says" aria-live="polite"></output></div>`;
}
