import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords, wholePercent } from "../../core/words.js";
import type { CheckCard } from "../check.js";
import { dataAddress } from "../pictures/page-picture.js";
import { stepName } from "../words/tone-check-words.js";
import { pageStyle } from "./browser-files.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import {
  headHtml,
  listHtml,
  orderedListHtml,
  scrollsHtml,
  type Tile,
  tableHtml,
  tilesHtml,
} from "./html-parts.js";
import { commandHtml, unbroken } from "./prose-html.js";

/**
 * The page of a check card beside the machine: what to set, what should come out, and how to take its picture.
 *
 * @param previewFile the card as predicted, PNG
 * @param next the command that reads the picture
 */
export function checkCardPage(card: CheckCard, previewFile: Uint8Array, next?: string): string {
  const { job, tool, tones, cautions, steps, photograph, notes } = card;
  const then = next === undefined ? "" : `<p>Then run</p>${commandHtml(next)}`;
  const body = [
    headHtml("A check card: do your files hold?", escapeHtml(aboutWords(card))),
    tilesHtml("What to set on the machine", tilesOf(card)),
    `<div class="pair"><section><h2>Engrave it</h2>${orderedListHtml(steps)}</section><section><h2>Take its picture</h2>${orderedListHtml(photograph)}${then}</section></div>`,
    previewHtml(card, previewFile),
    `<section class="small"><h2>Good to know</h2>${listHtml(notes)}</section>`,
    "<section>",
    tableHtml(
      "What should come out",
      [
        { head: "tone", words: true },
        { head: "asked for, L*" },
        { head: "predicted, L*" },
        { head: "patches" },
      ],
      tones.map(({ name, wanted, predicted, patches }) => [
        stepName({ name }),
        ...[wanted, predicted].map((each) => lightnessFromLuminance(each).toFixed(1)),
        String(patches),
      ]),
    ),
    "</section>",
    `<section class="small"><h2>Cautions</h2>${listHtml(cautions)}</section>`,
    `<footer class="small"><p>${escapeHtml(job.materialSource)}</p><p>${escapeHtml(`${job.code}. ${tool.name} ${tool.version}`)}</p></footer>`,
  ];
  return htmlPage(`Check card on ${job.material}`, body.join("\n"), { style: pageStyle("tiles", "card") });
}

const aboutWords = ({ job, tones }: CheckCard): string =>
  `${tones.length - 1} tones and a small picture on ${job.material}, prepared as a job is. Engrave it, photograph it, and read whether the tones came out as predicted.`;

function tilesOf({ job, units, runTime, burnFraction }: CheckCard): Tile[] {
  const speed = escapeHtml(unbroken(speedWords(job.speedMmPerS, units)));
  return [
    ["Size", escapeHtml(unbroken(sizeWords(job, units))), "as the bitmap says; never scale it"],
    ["Lines per inch", densityWords(job.linesPerInch), `${job.columns} × ${job.rows} pixels, ${job.method}`],
    [
      "Speed",
      job.isSpeedGiven ? speed : "your own",
      job.oneWay ? "all lines in one direction" : "in both directions",
    ],
    [
      "Run time",
      escapeHtml(unbroken(durationWords(runTime.seconds))),
      escapeHtml(unbroken(`about; ${wholePercent(burnFraction)} of the card burns`)),
    ],
  ];
}

function previewHtml({ job }: CheckCard, previewFile: Uint8Array): string {
  const words = `The card as the exposure model predicts it, with the figures of ${job.material}. Yours should look like this: compare the picture by eye.`;
  const image = `<img alt="The card as predicted" src="${dataAddress("image/png", previewFile)}">`;
  return `<figure class="preview">${scrollsHtml("Preview of the card", image)}<figcaption>${escapeHtml(unbroken(words))}</figcaption></figure>`;
}
