import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { densityWords, listWords } from "../../core/words.js";
import type { CheckedStep, ToneCheck } from "../check.js";
import { dataAddress } from "../pictures/page-picture.js";
import { stepName } from "../words/tone-check-words.js";
import { pageStyle } from "./browser-files.js";
import { type Chart, chartHtml } from "./chart.js";
import { chartColours } from "./chart-colours.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import {
  figureHtml,
  headHtml,
  listHtml,
  orderedListHtml,
  scrollsHtml,
  type Tile,
  tableHtml,
  tilesHtml,
} from "./html-parts.js";

/** Places of the patches on the straightened picture. */
export interface CheckPicture {
  /** JPEG. */
  readonly file: Uint8Array;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly areas: readonly {
    readonly leftMm: number;
    readonly topMm: number;
    readonly widthMm: number;
    readonly heightMm: number;
  }[];
}

/** Whether the tones of a check card landed, on one page. */
export async function toneCheckPage(check: ToneCheck, picture: CheckPicture): Promise<string> {
  const { tool, card, outcome, advice, notes } = check;
  const chart = figureHtml(
    "How far each tone is off",
    await chartHtml(offChart(check)),
    `Tones from bare to solid; ${check.steps.length} is the solid patches. A tone between the dashed lines came out as predicted.`,
  );
  const body = [
    headHtml("Did the tones land?", escapeHtml(aboutWords(check))),
    tilesHtml("What came out", tilesOf(check)),
    `<section><h2>${escapeHtml(outcome)}</h2></section>`,
    `<div class="pair">${chart}<section><h2>What to do</h2>${orderedListHtml(advice)}</section></div>`,
    `<section>${stepsHtml(check)}</section>`,
    figureHtml("The card as it was read", pictureHtml(check, picture), PICTURE_WORDS),
    `<section class="small"><h2>Good to know</h2>${listHtml(notes)}</section>`,
    `<footer class="small"><p>${escapeHtml(`${card}. ${tool.name} ${tool.version}`)}</p></footer>`,
  ];
  return htmlPage("Check of the tones", body.join("\n"), { style: pageStyle("tiles") });
}

const PICTURE_WORDS =
  "The first picture, straightened. A thin outline: a patch of a tone that came out as predicted. A thick one: its tone is off.";

const aboutWords = ({ material, method, linesPerInch, pictures }: ToneCheck): string =>
  `${material}, ${method} at ${densityWords(linesPerInch)} lines per inch, read from ${listWords(
    pictures.map(({ file }) => file),
    "and",
  )}`;

const VERDICTS: Readonly<Record<ToneCheck["verdict"], string>> = {
  within: "As predicted",
  dose: "Another dose",
  shape: "Off",
};

function tilesOf({ verdict, steps, dose }: ToneCheck): Tile[] {
  const off = steps.filter((step) => step.verdict !== "within").length;
  const worst = steps.reduce((a, b) => (Math.abs(b.difference) > Math.abs(a.difference) ? b : a));
  return [
    ["Verdict", VERDICTS[verdict], `${steps.length - off} of ${steps.length} tones are within the band`],
    ["Farthest off", `${signed(worst.difference)} L*`, stepName(worst)],
    [
      "Nearest dose",
      `× ${dose.factor.toFixed(2)}`,
      `leaves ${dose.offAfter.toFixed(1)} L* of ${dose.offBefore.toFixed(1)} L*`,
    ],
  ];
}

/** With a sign that can be read: `−2.4`, `+0.3`. */
const signed = (value: number): string => `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(1)}`;

function offChart({ steps }: ToneCheck): Chart {
  const line = (of: (step: CheckedStep) => number) => steps.map((step, k) => ({ x: k + 1, y: of(step) }));
  const { accent, soft } = chartColours;
  const most = Math.max(...steps.flatMap(({ difference, tolerance }) => [Math.abs(difference), tolerance]));
  const end = Math.ceil(1.2 * most);
  const band = { colour: soft, dash: "dashed", symbol: "none" } as const;
  return {
    id: "tones",
    summary: `How far ${steps.length} tones are off, in L*: up to ${Math.max(...steps.map(({ difference }) => Math.abs(difference))).toFixed(1)}.`,
    x: { name: "tone", min: 0, max: steps.length + 1 },
    y: { name: "L* too light (above 0) or too dark", min: -end, max: end },
    lines: [
      {
        name: "measured less predicted",
        points: line(({ difference }) => difference),
        colour: accent,
        width: 3,
      },
      { name: "band", points: line(({ tolerance }) => tolerance), ...band },
      { name: "band", points: line(({ tolerance }) => -tolerance), ...band },
    ],
  };
}

const WORDS: Readonly<Record<CheckedStep["verdict"], string>> = {
  within: "as predicted",
  "too-dark": "too dark",
  "too-light": "too light",
};

const stepsHtml = ({ steps }: ToneCheck): string =>
  tableHtml(
    "Every tone, in L*",
    [
      { head: "tone", words: true },
      { head: "asked for" },
      { head: "predicted" },
      { head: "measured" },
      { head: "off by" },
      { head: "band" },
      { head: "patches" },
      { head: "verdict", words: true },
    ],
    steps.map((step) => [
      stepName(step),
      ...[step.wanted, step.predicted, step.measured].map((each) => lightnessFromLuminance(each).toFixed(1)),
      signed(step.difference),
      `± ${step.tolerance.toFixed(1)}`,
      step.spoilt > 0 ? `${step.patches - step.spoilt} of ${step.patches}` : String(step.patches),
      WORDS[step.verdict],
    ]),
  );

function pictureHtml(
  { steps, patches }: ToneCheck,
  { file, widthMm, heightMm, areas }: CheckPicture,
): string {
  const off = new Set(steps.filter(({ verdict }) => verdict !== "within").map(({ name }) => name));
  const marks = areas.map(
    ({ leftMm, topMm, widthMm: width, heightMm: height }, k) =>
      `<rect x="${leftMm}" y="${topMm}" width="${width}" height="${height}" stroke-width="${off.has(patches[k].shows) ? 0.4 : 0.1}"/>`,
  );
  const image = `<image href="${dataAddress("image/jpeg", file)}" width="${widthMm}" height="${heightMm}"/>`;
  const svg = `<svg class="read" viewBox="0 0 ${widthMm} ${heightMm}" role="img" aria-label="The straightened picture with every patch outlined">${image}<g fill="none" stroke="#b4541a">${marks.join("")}</g></svg>`;
  return scrollsHtml("The card as it was read", svg);
}
