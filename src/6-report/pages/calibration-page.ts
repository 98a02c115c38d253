import { medianOf } from "../../core/median.js";
import { listWords } from "../../core/words.js";
import type { Calibration } from "../calibration.js";
import { dataAddress } from "../pictures/page-picture.js";
import { figureWords, solidDoseOf } from "../words/calibration-words.js";
import { pageStyle } from "./browser-files.js";
import { adviceHtml, calibrationChangesHtml } from "./calibration-changes.js";
import { calibrationSpreadHtml } from "./calibration-spread.js";
import { chartHtml } from "./chart.js";
import { chartColours } from "./chart-colours.js";
import type { Chart } from "./chart-types.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import { figureHtml, headHtml, listHtml, scrollsHtml, type Tile, tilesHtml } from "./html-parts.js";

/** Places of the patches on the straightened picture. */
export interface CalibrationPicture {
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

/** What a card taught, on one page: figures with bands, the response, and the picture with what was read of every patch. */
export async function calibrationPage(
  name: string,
  calibration: Calibration,
  picture: CalibrationPicture,
  next: readonly string[],
): Promise<string> {
  const { tool, warnings, cards } = calibration;
  const responseHtml = figureHtml(
    "Response of the material",
    await chartHtml(responseChart(calibration)),
    `Luminance factor by dose; a solid fill of this card has dose ${Number(solidDoseOf(calibration.response).toFixed(2))}. The dashed lines hold the curve nine times out of ten. The dotted one is what was believed before.`,
  );
  const body = [
    headHtml(`What the card taught: ${name}`, escapeHtml(aboutWords(calibration))),
    tilesHtml("Figures of the machine", tilesOf(calibration)),
    `<div class="pair">${responseHtml}<div>${adviceHtml([
      ["What to do next", next],
      ["What to set differently", calibration.settings],
      ["What to engrave to be surer", calibration.next],
    ])}</div></div>`,
    calibrationChangesHtml(calibration),
    calibrationSpreadHtml(calibration),
    warnings.length === 0
      ? ""
      : `<section class="small"><h2>Good to know</h2>${listHtml(warnings.map(({ message }) => message))}</section>`,
    figureHtml("The card as it was read", pictureHtml(calibration, picture), PICTURE_WORDS),
    `<footer class="small"><p>${escapeHtml(`${cards.map(({ code }) => code).join("; ")}. ${tool.name} ${tool.version}`)}</p></footer>`,
  ];
  return htmlPage(`Calibration: ${name}`, body.join("\n"), { style: pageStyle("tiles") });
}

const PICTURE_WORDS =
  "The first picture, straightened. A thin outline: the patch is as bright as the fit says. A thick one: it is off by more than patches of its tone usually are. A cross: it was left out as spoilt.";

const aboutWords = ({ pictures, patches }: Calibration): string =>
  `${patches.length} patches, read from ${listWords(
    pictures.map(({ file, pxPerMm }) => `${file} (${pxPerMm.toFixed(0)} pixels per mm)`),
    "and",
  )}`;

function tilesOf(calibration: Calibration): Tile[] {
  const { spotAlongMm, spotAcrossMm, firingLagUs, firingLossUs, lineShiftMm, closingLinesPerInch } =
    calibration;
  const tile = (name: string, words: string): Tile => {
    const [value, note = ""] = words.split(/ \(|; /);
    return [name, escapeHtml(value), note.replace(/\)$/, "")];
  };
  return [
    tile("Spot along", figureWords(spotAlongMm, " mm", 3)),
    tile("Spot across", figureWords(spotAcrossMm, " mm", 3)),
    tile("Spots touch at", figureWords(closingLinesPerInch, " per inch", 0)),
    tile("Firing lag", figureWords(firingLagUs, " µs", 0)),
    tile("Firing loss", figureWords(firingLossUs, " µs", 0)),
    tile("Line shift", figureWords(lineShiftMm, " mm", 3)),
  ];
}

/** One entry of the legend for both of its ends. */
const BAND = "band, nine times out of ten";

function responseChart({ response, before }: Calibration): Chart {
  const line = (of: "luminance" | "low" | "high") => response.map((row) => ({ x: row.dose, y: row[of] }));
  const { accent, second, soft } = chartColours;
  const [bare, solid] = [response[0], response[response.length - 1]];
  return {
    id: "response",
    summary: `Luminance factor from ${bare.luminance.toFixed(2)} bare to ${solid.luminance.toFixed(2)} at dose ${solid.dose.toFixed(2)}.`,
    x: { name: "dose", min: 0 },
    y: { name: "luminance factor", min: 0 },
    lines: [
      { name: "measured", points: line("luminance"), colour: accent, width: 3, symbol: "none" },
      { name: BAND, points: line("low"), colour: soft, dash: "dashed", symbol: "none" },
      { name: BAND, points: line("high"), colour: soft, dash: "dashed", symbol: "none" },
      {
        name: `before: ${before.material}`,
        points: before.response.map(({ dose, luminance }) => ({ x: dose, y: luminance })),
        colour: second,
        dash: "dotted",
        symbol: "none",
      },
    ],
  };
}

/** A patch is off if it differs from its fit by more than so many standard deviations of patches of about its tone. */
const OFF = 3.5;
/** Patches of about the same tone: middling ones differ more, because the dose differs from place to place. */
const ALIKE = 60;

/** For each patch, how many standard deviations it is off its fit; 0 without one. */
function deviations(patches: Calibration["patches"]): number[] {
  const fits = patches.flatMap(({ measured, fitted }) =>
    fitted === undefined ? [] : [{ fitted, off: Math.abs(measured - fitted) }],
  );
  return patches.map(({ measured, fitted }) => {
    if (fitted === undefined) return 0;
    const alike = [...fits]
      .sort((a, b) => Math.abs(a.fitted - fitted) - Math.abs(b.fitted - fitted))
      .slice(0, ALIKE);
    return Math.abs(measured - fitted) / (1.4826 * medianOf(alike.map(({ off }) => off)) + 1e-9);
  });
}

function pictureHtml(
  { patches }: Calibration,
  { file, widthMm, heightMm, areas }: CalibrationPicture,
): string {
  const off = deviations(patches);
  const marks = areas.map(({ leftMm, topMm, widthMm: width, heightMm: height }, k) => {
    const [right, lower] = [leftMm + width, topMm + height];
    const isOff = off[k] > OFF;
    const box = `<rect x="${leftMm}" y="${topMm}" width="${width}" height="${height}" stroke-width="${isOff ? 0.4 : 0.1}"/>`;
    const cross = `<path d="M${leftMm} ${topMm}L${right} ${lower}M${right} ${topMm}L${leftMm} ${lower}" stroke-width="0.3"/>`;
    return box + (patches[k].spoilt ? cross : "");
  });
  const size = `viewBox="0 0 ${widthMm} ${heightMm}"`;
  const image = `<image href="${dataAddress("image/jpeg", file)}" width="${widthMm}" height="${heightMm}"/>`;
  const svg = `<svg class="read" ${size} role="img" aria-label="The straightened picture with every patch outlined">${image}<g fill="none" stroke="#b4541a">${marks.join("")}</g></svg>`;
  return scrollsHtml("The card as it was read", svg);
}
