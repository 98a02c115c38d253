import { sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords, wholePercent } from "../../core/words.js";
import type { CardGroup, ShownPattern, TestCard } from "../card.js";
import { dataAddress } from "../pictures/page-picture.js";
import { cardGroupWords, patternWords } from "../words/card-words.js";
import { pageStyle } from "./browser-files.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import { headHtml, listHtml, orderedListHtml, scrollsHtml, type Tile, tilesHtml } from "./html-parts.js";
import { commandHtml, unbroken } from "./prose-html.js";

/**
 * The page beside the machine: what to set, how to take the picture, and what is on the card.
 *
 * @param previewFile the preview as PNG
 * @param next the command that reads the picture
 */
export function testCardPage(card: TestCard, previewFile: Uint8Array, next?: string): string {
  const { job, tool, cautions, steps, photograph, notes } = card;
  const body = [
    headHtml("A test card for your machine and material", escapeHtml(aboutWords(card))),
    tilesHtml("What to set on the machine", tilesOf(card)),
    `<div class="pair"><section><h2>Engrave it</h2>${orderedListHtml(steps)}</section><section><h2>Take its picture</h2>${orderedListHtml(photograph)}${next === undefined ? "" : `<p>Then run</p>${commandHtml(next)}`}</section></div>`,
    previewHtml(card, previewFile),
    `<section class="small"><h2>Good to know</h2>${listHtml(notes)}</section>`,
    `<section class="small"><h2>Cautions</h2>${listHtml(cautions)}</section>`,
    `<section class="patterns"><h2>The patterns</h2><p class="quiet">${escapeHtml(PATTERN_WORDS)}</p>${card.groups.map(groupHtml).join("\n")}</section>`,
    `<footer class="small"><p>${escapeHtml(job.materialSource)}</p><p>${escapeHtml(`${tool.name} ${tool.version}`)}</p></footer>`,
  ];
  return htmlPage(`Test card on ${job.material}`, body.join("\n"), { style: pageStyle("tiles", "card") });
}

const PATTERN_WORDS =
  "Twenty-four pixels of each, enlarged; black burns, and lines run from left to right. The number is the one in the preview. Percent are the share that burns, and times the number of its patches.";

const aboutWords = ({ job, contents }: TestCard): string =>
  `${contents.patches} patches of ${Number(contents.patchMm.toFixed(1))} mm in ${contents.patterns} patterns, scattered, to engrave on ${job.material} and to photograph. Their tones tell what your material does at every dose, and how large your spot is.`;

function tilesOf({ job, units, contents, runTime }: TestCard): Tile[] {
  const speedGiven = speedWords(job.speedMmPerS, units);
  const assumed = job.isSpeedGiven ? "" : `, if the speed is ${speedGiven}`;
  return [
    ["Size", escapeHtml(unbroken(sizeWords(job, units))), "as the bitmap says; never scale it"],
    ["Lines per inch", densityWords(job.linesPerInch), `${job.columns} × ${job.rows} pixels`],
    [
      "Speed",
      job.isSpeedGiven ? escapeHtml(unbroken(speedGiven)) : "your own",
      job.oneWay ? "all lines in one direction" : "in both directions",
    ],
    [
      "Run time",
      escapeHtml(unbroken(durationWords(runTime.seconds))),
      escapeHtml(unbroken(`about${assumed}; ${wholePercent(contents.burnFraction)} of the card burns`)),
    ],
  ];
}

function previewHtml({ contents, job }: TestCard, previewFile: Uint8Array): string {
  const words = `The card as it may come out. Numbers are those of the patterns below; ${contents.bareReferences} patches stay bare and ${contents.solidReferences} are solid, so that uneven light in your picture can be told. Tones follow from the figures that come with ${job.material}. Yours will differ: that is what the card is for.`;
  const image = `<img alt="The card with a number in each patch" src="${dataAddress("image/png", previewFile)}">`;
  return `<figure class="preview">${scrollsHtml("Preview of the card", image)}<figcaption>${escapeHtml(unbroken(words))}</figcaption></figure>`;
}

function groupHtml({ name, patterns }: CardGroup): string {
  const [title, tells] = cardGroupWords[name];
  return `<section class="group"><h3>${escapeHtml(title)}</h3><p>${escapeHtml(tells)}</p><ul class="tiles">${patterns.map(patternHtml).join("\n")}</ul></section>`;
}

function patternHtml(shown: ShownPattern): string {
  const { number, pattern, burnFraction, patches } = shown;
  return `<li>${tileSvg(shown)}<span><strong>${number}</strong> ${escapeHtml(unbroken(patternWords(pattern)))}</span><span class="quiet">${wholePercent(burnFraction)}, ${patches} times</span></li>`;
}

/** Pixels of a pattern that are shown, along and across. */
const SHOWN_PX = 24;

/** The pattern enlarged. Runs of burned pixels are rectangles of one path, which is repeated. */
function tileSvg({ number, tile, burnFraction, pattern }: ShownPattern): string {
  const id = `tile-${number}`;
  const opacity = pattern.kind === "fill" ? ` fill-opacity="${Number(burnFraction.toFixed(3))}"` : "";
  return `<svg viewBox="0 0 ${SHOWN_PX} ${SHOWN_PX}" aria-hidden="true" shape-rendering="crispEdges"><pattern id="${id}" width="${tile[0].length}" height="${tile.length}" patternUnits="userSpaceOnUse"><path d="${runsPath(tile)}"${opacity}/></pattern><rect class="board" width="100%" height="100%"/><rect width="100%" height="100%" fill="url(#${id})"/></svg>`;
}

const runsPath = (tile: readonly string[]): string =>
  tile
    .flatMap((line, y) =>
      [...line.matchAll(/1+/g)].map(({ 0: run, index }) => `M${index} ${y}h${run.length}v1h-${run.length}z`),
    )
    .join("");
