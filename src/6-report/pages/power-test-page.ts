import { sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords } from "../../core/words.js";
import type { PowerTest } from "../power-test.js";
import { pageStyle } from "./browser-files.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import { headHtml, listHtml, type Tile, tilesHtml } from "./html-parts.js";
import { commandHtml, unbroken } from "./prose-html.js";

/** A power test as one sheet to print and fill in beside the machine. */
export function powerTestPage(test: PowerTest): string {
  const { job, tool, cautions } = test;
  const body = [
    headHtml("Which power gives full tone", escapeHtml(aboutWords(test))),
    tilesHtml("What to set on the machine", tilesOf(test)),
    `<div class="pair"><section><h2>What to do</h2>${stepsHtml(test)}</section><section>${blankTableHtml(test)}${exampleHtml(test)}</section></div>`,
    outcomeHtml(test),
    `<section class="small"><h2>Good to know</h2>${listHtml(test.notes)}</section>`,
    `<section class="small"><h2>Cautions</h2>${listHtml(cautions)}</section>`,
    `<footer class="small"><p>${escapeHtml(`${tool.name} ${tool.version}`)}</p></footer>`,
  ];
  return htmlPage(`Power test on ${job.material}`, body.join("\n"), {
    style: pageStyle("tiles", "power-test"),
  });
}

const stepsHtml = ({ steps }: PowerTest): string =>
  `<ol>${steps.map((step) => `<li>${escapeHtml(unbroken(step))}</li>`).join("\n")}</ol>`;

const aboutWords = ({ job, patches }: PowerTest): string =>
  `One solid patch, burned ${patches} times on ${job.material}, at ${patches} powers of your choice`;

function tilesOf({ job, units, secondsPerPatch }: PowerTest): Tile[] {
  const speedGiven = speedWords(job.speedMmPerS, units);
  const speed: Tile = job.isSpeedGiven
    ? ["Speed", escapeHtml(unbroken(speedGiven)), "the same for all patches"]
    : ["Speed", "your own", "the same for all patches"];
  const assumed = job.isSpeedGiven ? "" : unbroken(`, if the speed is ${speedGiven}`);
  return [
    ["Size", escapeHtml(unbroken(sizeWords(job, units))), "as the bitmap says; never scale it"],
    [
      "Lines per inch",
      densityWords(job.linesPerInch),
      `${job.columns} × ${job.rows} pixels, all of them burn`,
    ],
    speed,
    ["One patch", escapeHtml(unbroken(durationWords(secondsPerPatch))), `about${assumed}`],
  ];
}

/** Tones of the drawn patches, as shares of full tone. The fourth looks like the fifth, so it is the one to take. */
const DRAWN_TONES = [0.25, 0.5, 0.78, 1, 1];
const SIDE = 44;
const STEP = 52;

/** What a burned row may look like. */
function exampleHtml({ job }: PowerTest): string {
  const [bare, marked] = job.marksGrow === "darker" ? [215, 45] : [70, 225];
  const taken = DRAWN_TONES.indexOf(1);
  const patches = DRAWN_TONES.map((tone, k) => {
    const grey = Math.round(bare + tone * (marked - bare));
    const x = 8 + k * STEP;
    return `<rect x="${x}" y="8" width="${SIDE}" height="${SIDE}" fill="rgb(${grey},${grey},${grey})"/><text x="${x + SIDE / 2}" y="74">${k + 1}</text>`;
  });
  const x = 8 + taken * STEP;
  const words = `The first patch that is as ${job.marksGrow === "darker" ? "dark" : "light"} as the next one: here number ${taken + 1}.`;
  return `<figure class="example"><svg viewBox="0 0 ${16 + 4 * STEP + SIDE} 84" role="img" aria-label="${escapeHtml(words)}"><rect class="board" x="0" y="0" width="100%" height="60" fill="rgb(${bare},${bare},${bare})"/>${patches.join("")}<rect class="taken" x="${x - 3}" y="5" width="${SIDE + 6}" height="${SIDE + 6}"/></svg><figcaption>${escapeHtml(words)}</figcaption></figure>`;
}

/** A row for each patch, to write into. */
function blankTableHtml({ patches, job }: PowerTest): string {
  const heads = [
    "Patch",
    "Power, %",
    `${job.marksGrow === "darker" ? "Darker" : "Lighter"} than the one before?`,
    "Charred or damaged?",
  ];
  const head = heads.map((each) => `<th scope="col">${escapeHtml(each)}</th>`).join("");
  const rows = Array.from(
    { length: patches },
    (_, k) => `<tr><th scope="row">${k + 1}</th><td></td><td>${k === 0 ? "–" : ""}</td><td></td></tr>`,
  );
  return `<table class="blank"><caption>Your five patches</caption><thead><tr>${head}</tr></thead><tbody>${rows.join("\n")}</tbody></table>`;
}

function outcomeHtml({ job, units, giveAs }: PowerTest): string {
  const speed = job.isSpeedGiven
    ? escapeHtml(speedWords(job.speedMmPerS, units))
    : `<span class="write"></span> ${escapeHtml(units.speed)}`;
  const more = job.isSpeedGiven ? "" : " Give every job the speed of this test too.";
  return `<div class="answer"><strong>Full tone: <span class="write"></span> % at ${densityWords(job.linesPerInch)} lines per inch and ${speed}</strong><p>Then add it to every job, with your percent in place of 40: ${commandHtml(giveAs)}. Reports and plans name the percent to set at any other density.${more}</p></div>`;
}
