import { libraryReader, type Reader } from "../../core/reader.js";
import { sizeWords } from "../../core/shown-units.js";
import type { Comparison } from "../comparison.js";
import type { CandidatePictures } from "../pictures/candidate-pictures.js";
import { type Column, candidateName, choicesOf } from "../words/comparison-columns.js";
import { termsOf } from "../words/comparison-terms.js";
import {
  acrossMaterials,
  comparedTimes,
  headOf,
  numberedName,
  sharedWarnings,
  shownValue,
  tellingFigures,
  WINS,
} from "../words/comparison-words.js";
import { leftOutWords } from "../words/left-out.js";
import { heldIfWords, spreadInWords } from "../words/variation-words.js";
import { pageScript, pageStyle } from "./browser-files.js";
import { cardsHtml, planeHtml, toolsHtml } from "./comparison-cards.js";
import { plotsHtml } from "./comparison-plots.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import {
  foldedHtml,
  footHtml,
  headHtml,
  listHtml,
  scrollsHtml,
  type Tile,
  tableHtml,
  termsHtml,
  tilesHtml,
} from "./html-parts.js";

/**
 * A comparison as one page: the predicted candidates, two of them on a slider, all of them close up at the same place, and every
 * figure. The page loads nothing.
 *
 * @param pictures of each candidate, in their order
 * @param reader of the page
 */
export function comparisonPage(
  comparison: Comparison,
  pictures: readonly CandidatePictures[],
  reader: Reader = libraryReader,
): string {
  const { candidates, photo, tool } = comparison;
  const name = photo || "Photo";
  const differing = choicesOf(candidates, true);
  const common = candidateName(candidates[0], choicesOf(candidates, false));
  const figures = tellingFigures(comparison);
  const columns = [...differing, ...figures];
  const fill = viewFill(comparison);
  const data = JSON.stringify({ ...pageData(comparison, pictures, columns), fill: [fill.x, fill.y] });
  const count = candidates.length;
  const body = [
    headHtml(
      `${name}: ${count === 1 ? "one way" : `${count} ways`} to engrave it`,
      escapeHtml(
        `${sizeWords(comparison, comparison.units)}, all with ${common}. ${comparedTimes(comparison, reader)}`,
      ),
    ),
    `<div class="answer"><strong>${escapeHtml(comparison.recommended.sentence)}</strong>${seeHtml(comparison)}</div>`,
    warningsHtml(comparison),
    count > 1 ? winnersHtml(comparison) : "",
    `<div class="comparison" data-comparison="${escapeHtml(data)}" style="${viewStyle(fill)}">`,
    toolsHtml(columns),
    count > 1 ? twoHtml(comparison) : "",
    `<section aria-labelledby="sheet-head"><h2 id="sheet-head">The pieces as predicted</h2>
<p class="small screen">Click a picture, or press Enter on it, to bring it to the slider. ${lookingWords(comparison, pictures)}</p>
${cardsHtml(comparison, pictures)}</section>`,
    plotsHtml(comparison),
    figuresHtml(comparison, figures),
    "</div>",
    meaningHtml(comparison),
    footHtml(tool),
  ];
  return htmlPage(`${name}: ${count} compared`, body.filter(Boolean).join("\n"), {
    style: pageStyle("tiles", "border", "comparison-view", "comparison-page"),
    script: pageScript("comparison-page"),
  });
}

/** Links to the pictures of what to take. */
function seeHtml(comparison: Comparison): string {
  if (comparison.candidates.length < 2) return "";
  const links = comparison.recommended.candidates.map(
    (k) => `<a href="#candidate-${k + 1}">${escapeHtml(numberedName(comparison, k))}</a>`,
  );
  return `<p>Its picture is below: ${links.join("; ")}.</p>`;
}

function figuresHtml(comparison: Comparison, figures: readonly Column[]): string {
  const table = tableHtml(
    "All figures",
    [{ head: "candidate", words: true }, ...figures.map((column) => ({ head: headOf(column) }))],
    comparison.candidates.map((one, k) => [
      numberedName(comparison, k),
      ...figures.map((column) => shownValue(column, one)),
    ]),
  );
  return `<div class="screen">${foldedHtml("All figures in a table", table)}</div>`;
}

/** Limits of a view's proportions: a narrow slit would not show dots. */
const MIN_RATIO = 0.6;
const MAX_RATIO = 2.5;

/** A view's proportions, and the shares of its width and height that the whole piece fills. */
function viewFill({ widthMm, heightMm }: Comparison) {
  const ratio = widthMm / heightMm;
  const view = Math.max(MIN_RATIO, Math.min(MAX_RATIO, ratio));
  return { ratio: view, x: Math.min(1, ratio / view), y: Math.min(1, view / ratio) };
}

/** A view of the whole piece, centred. */
const viewStyle = ({ ratio, x, y }: ReturnType<typeof viewFill>): string =>
  `--ratio:${ratio};--fill-x:${x};--fill-y:${y};--x:${0.5 - 0.5 / x};--y:${0.5 - 0.5 / y}`;

/** The data for the page's script. */
function pageData(
  comparison: Comparison,
  pictures: readonly CandidatePictures[],
  columns: readonly Column[],
) {
  const { candidates, widthMm, heightMm, winners, recommended } = comparison;
  const [left] = recommended.candidates;
  const { nominal, robust } = winners;
  const right = [robust, nominal, 0, 1].find((k) => k !== left);
  return {
    ...{ widthMm, heightMm },
    names: candidates.map((_, k) => numberedName(comparison, k)),
    figures: columns.map((column) => ({
      head: headOf(column),
      values: candidates.map((one) => column.value(one)),
      shown: candidates.map((one) => shownValue(column, one)),
      more: column.more === true,
    })),
    part: pictures[0].closeUp.part,
    detail: pictures[0].closeUp.detail,
    finestColumns: Math.max(...pictures.map(({ closeUp }) => closeUp.columns / closeUp.part.width)),
    first: [left, right ?? left],
  };
}

const WIN_WORDS = {
  nominal: "Nominal: the machine as set",
  robust: "Robust: dose and spot vary",
  fast: "Fast: saves time unnoticed",
} as const;

/** The winners by one measure each, and what was not compared. */
function winnersHtml(comparison: Comparison): string {
  const { winners, reasons } = comparison;
  const tiles = WINS.map((which): Tile => {
    const k = winners[which];
    const name = `<a href="#candidate-${k + 1}">${escapeHtml(numberedName(comparison, k))}</a>`;
    return [WIN_WORDS[which], name, reasons[which]];
  });
  const leftOut = leftOutWords(comparison);
  const others =
    leftOut.length > 0 ? `<p>Left out, because they do not fit this job:</p>${listHtml(leftOut)}` : "";
  return foldedHtml("The best by each measure", tilesHtml("Winners", tiles) + others);
}

/** Warnings from the reports of what to take, and of the winners. */
function warningsHtml(comparison: Comparison): string {
  const told = sharedWarnings(comparison);
  if (told.length === 0) return "";
  const { candidates } = comparison;
  const whom = (of: readonly number[]): string => {
    if (of.length === candidates.length) return candidates.length > 1 ? "All: " : "";
    return `${of.map((k) => k + 1).join(", ")}: `;
  };
  return `<section><h2>Warnings</h2>${listHtml(told.map(({ message, of }) => `${whom(of)}${message}`))}</section>`;
}

function lookingWords(
  { widthMm, heightMm, units }: Comparison,
  pictures: readonly CandidatePictures[],
): string {
  const { part } = pictures[0].closeUp;
  if (part.width === 1 && part.height === 1) return "All pictures zoom and move together, down to the dots.";
  const size = sizeWords({ widthMm: part.width * widthMm, heightMm: part.height * heightMm }, units);
  return `All pictures zoom and move together. A page cannot contain every dot of all candidates: the close view shows the part in the dashed frame, ${size}, whose tones are most like those of the whole.`;
}

/** The figures of the two candidates. The script adds the rows. */
const FACING = `<table class="facing"><thead><tr><th scope="col" class="words">figure</th><th scope="col">left</th><th scope="col">right</th></tr></thead><tbody></tbody></table>`;

/** The slider. The script inserts its pictures. */
function twoHtml(comparison: Comparison): string {
  const { candidates } = comparison;
  const options = candidates.map(
    (_, k) => `<option value="${k}">${escapeHtml(numberedName(comparison, k))}</option>`,
  );
  const pick = (side: string, words: string): string =>
    `<label class="pick ${side}">${words} <select>${options.join("")}</select></label>`;
  const layer = (side: string): string =>
    `<div class="layer ${side}">${planeHtml()}<span class="label"></span></div>`;
  return `<section id="two" class="live-only" aria-labelledby="two-head"><h2 id="two-head">Two at the same place</h2>
<div class="two"><figure><div class="stage view" tabindex="0" role="application" aria-label="Two candidates at the same place. Plus and minus zoom, arrow keys move, zero shows the whole piece." aria-describedby="view-says">${layer("left")}${layer("right")}<span class="border" aria-hidden="true"></span></div>
<input class="slide screen" type="range" min="0" max="100" step="0.5" value="50" aria-label="Border between the two">
<figcaption class="screen">Drag the border, or the slider below the picture. Zoom with the wheel after a click on the picture (anywhere with Ctrl), by pinching, or with the keys + and −; drag to move.</figcaption></figure>
<div class="beside"><div class="picks screen">${pick("left", "Left")}${pick("right", "Right")}</div>${scrollsHtml("Figures of the two", FACING)}</div></div></section>`;
}

function meaningHtml(comparison: Comparison): string {
  const { spread, candidates } = comparison;
  const materials = acrossMaterials(candidates);
  const terms = termsOf(tellingFigures(comparison)).map(({ term, means }) => [term, means] as const);
  const paragraphs = [
    "An L* is a step of lightness; about 1 is just noticeable side by side. Errors are root mean squares, seen from the job's viewing distance.",
    `A machine varies by standard deviations of ${spreadInWords(spread)}. Tones are held although ${heldIfWords(spread)}. The tone shift counts a third, because a shift of the whole piece is judged from memory.`,
    ...(materials === undefined ? [] : [materials]),
  ];
  const html = paragraphs.map((words) => `<p>${escapeHtml(words)}</p>`).join("");
  return foldedHtml("What the figures mean", `${termsHtml(terms)}<div class="small">${html}</div>`);
}
