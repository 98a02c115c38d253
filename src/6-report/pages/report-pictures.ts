import { type ShownUnits, sizeWords } from "../../core/shown-units.js";
import { mmFromInches } from "../../core/units.js";
import { dataAddress } from "../pictures/page-picture.js";
import type { Report } from "../report.js";
import { bendWords } from "../words/placing-words.js";
import { pictureSize } from "../words/report-words.js";
import { escapeHtml } from "./html-page.js";
import { scrollsHtml } from "./html-parts.js";
import { boxSize, sheetPath, unrolledSheet } from "./unrolled.js";

/** The photo as the target on the grid, and the predicted piece: JPEG files, as seen, in the material's colours. */
export interface PagePictures {
  readonly wanted: Uint8Array;
  readonly predicted: Uint8Array;
  /** Of a cone: the predicted piece on its unrolled surface, in the box round it. */
  readonly unrolled?: Uint8Array;
}

/** Size that fits on both A4 and Letter inside the page's margins, with heading and caption, in mm. */
const PAPER_MM = { width: 181, height: 212 } as const;

/** Maximum size of a long piece that is turned upright, with its caption beside it. */
const BESIDE_MM = { width: 100, height: 232 } as const;

/** Maximum enlargement of a small piece over life size. Beyond it, dots would look blurred. */
const MAX_ENLARGEMENT = 5;

type Which = "wanted" | "predicted";
type Size = Pick<Report["job"], "widthMm" | "heightMm">;

/** The store of pictures: each picture once. The rest of the page refers to it. */
export function pictureStore({ job }: Report, pictures: PagePictures): string {
  const image = (which: Which): string =>
    `<image id="picture-${which}" width="${job.widthMm}" height="${job.heightMm}" preserveAspectRatio="none" href="${dataAddress("image/jpeg", pictures[which])}"/>`;
  const unrolled = pictures.unrolled && unrolledImage(job, pictures.unrolled);
  return `<svg class="store" width="0" height="0" aria-hidden="true"><defs>${image("wanted")}${image("predicted")}${unrolled ?? ""}</defs></svg>`;
}

/** The unrolled surface of a cone, cut out along its edges. */
function unrolledImage({ around }: Report["job"], picture: Uint8Array): string | undefined {
  const sheet = unrolledSheet(around);
  if (!sheet) return undefined;
  const { cone, angleRad, box } = sheet;
  const { widthMm, heightMm } = boxSize(box);
  const path = `<path d="${sheetPath(cone, angleRad)}" transform="translate(${-box.leftMm} ${-box.topMm})"`;
  return `<clipPath id="sheet-edge">${path}/></clipPath><g id="picture-unrolled"><image width="${widthMm}" height="${heightMm}" preserveAspectRatio="none" clip-path="url(#sheet-edge)" href="${dataAddress("image/jpeg", picture)}"/>${path} fill="none" stroke="currentColor" stroke-width=".1"/></g>`;
}

/** A picture of the store, its own units in mm. */
function shown(which: Which | "unrolled", { widthMm, heightMm }: Size, alt: string, attributes = ""): string {
  return `<svg viewBox="0 0 ${widthMm} ${heightMm}" role="img" aria-label="${escapeHtml(alt)}"${attributes}><use href="#picture-${which}"/></svg>`;
}

const pictureWord = ({ job }: Report): string => (job.kind === "solid" ? "drawing" : "photo");

const altWords = (which: Which, report: Report): string => {
  const { input, job, units } = report;
  const size = sizeWords(job, units);
  return which === "wanted"
    ? `What is asked of ${job.material}: ${input.file || `the ${pictureWord(report)}`} in the tones that this job can reach, ${size}.`
    : `What ${job.material} is predicted to look like: the burned dots of ${input.file || `the ${pictureWord(report)}`} as an eye blends them, ${size}.`;
};

/** Photo and prediction at the same place. The page's script adds the slider; without it they are side by side. */
export function compareHtml(report: Report): string {
  const { job } = report;
  const panel = (which: Which, label: string): string =>
    `<div class="panel ${which}">${shown(which, job, altWords(which, report))}<span class="label">${label}</span></div>`;
  const error = report.prediction
    ? ` Seen from ${Math.round(job.viewDistanceMm)} mm, the two differ by ${report.prediction.visualErrorRms.toFixed(2)} L* rms with dose and spot as set; 1 is just noticeable.`
    : "";
  return `<section class="compared" style="--ratio:${job.widthMm / job.heightMm};--max:${Math.max(90, MAX_ENLARGEMENT * job.widthMm)}mm"><h2>The ${pictureWord(report)}, and the predicted result</h2>
<figure class="compare"><div class="stage">${panel("wanted", "as wanted")}${panel("predicted", "as predicted")}<input type="range" min="0" max="100" step="0.5" value="50" aria-label="Border between the ${pictureWord(report)} as wanted and the piece as predicted"><span class="border" aria-hidden="true"></span></div>
<figcaption><span class="screen">Drag across the picture, or use the arrow keys.</span> "As wanted" is the ${pictureWord(report)} on the engraving grid, in the colours and the tone range of ${escapeHtml(job.material)}: the material sets how dark and how light it can be.${error}${job.mirror ? " Shown as the finished piece looks; the bitmap is mirrored." : ""}${job.around?.cone ? " Both are shown on the grid of the bitmap, whose rows are circles of the cone. The unrolled surface is shown at life size below." : ""}</figcaption></figure></section>`;
}

/** The predicted piece at its true size, on screens and on paper, with a bar to check with a ruler. A cone is unrolled. */
export function lifeSizeHtml(report: Report): string {
  const { job, units } = report;
  const alt = altWords("predicted", report);
  const sheet = unrolledSheet(job.around);
  const piece: LifeSize = sheet
    ? { which: "unrolled", ...boxSize(sheet.box) }
    : { which: "predicted", widthMm: job.widthMm, heightMm: job.heightMm };
  const whole = shown(piece.which, piece, alt, ` class="life" style="${sized(piece)}"`);
  const paper = onPaper(piece, alt, units);
  const pictures = paper ? `<div class="screen">${whole}</div><div class="paper">${paper.svg}</div>` : whole;
  const note = paper ? `<span class="paper"> ${paper.note}</span>` : "";
  return `<section class="keep"><h2>Life size: ${sizeWords(pictureSize(job), units)}</h2>
<figure${paper?.beside ? ' class="beside"' : ""}>${scrollsHtml("The predicted piece at life size", pictures)}
<figcaption>${barHtml(units)} Lay a ruler on the bar: on paper it is true when printed at 100 %; on a screen it depends on how well the screen knows its own size.${roundNote(job, units)}${note}</figcaption></figure></section>`;
}

/** A bar to check with a ruler. */
function barHtml({ length }: ShownUnits): string {
  const [mm, words] = length === "in" ? [mmFromInches(2), "2 in"] : [50, "50 mm"];
  return `<svg class="bar" viewBox="0 0 ${mm} 3" style="width:${mm}mm;height:3mm" role="img" aria-label="A bar of ${words}"><path d="M.15 0v3M${mm - 0.15} 0v3M0 1.5h${mm}" stroke="currentColor" stroke-width=".3"/></svg> ${words}.`;
}

/** A note on a round piece, which is unrolled. */
function roundNote({ around }: Report["job"], units: ShownUnits): string {
  if (!around) return "";
  const { placed, cone } = around;
  const sides = placed
    ? " The surface is shown unrolled."
    : ` The surface is shown unrolled: its ${cone ? "straight" : "left and right"} edges meet on the work.`;
  const cut = cone ? " Printed and cut out along its edge, it lies on the piece without a fold." : "";
  const bend = bendWords(around, units);
  return escapeHtml(`${sides}${cut}${bend ? ` ${bend}` : ""}`);
}

interface LifeSize extends Size {
  readonly which: "predicted" | "unrolled";
}

const sized = ({ widthMm, heightMm }: Size): string => `width:${widthMm}mm;height:${heightMm}mm`;

interface OnPaper {
  readonly svg: string;
  readonly note: string;
  /** True if the caption is beside the piece. */
  readonly beside?: boolean;
}

/** The part of a large piece that fits on a sheet at life size: turned, or its middle. */
function onPaper(job: LifeSize, alt: string, units: ShownUnits): OnPaper | undefined {
  const { width, height } = PAPER_MM;
  const { widthMm, heightMm, which } = job;
  if (widthMm <= width && heightMm <= height) return undefined;
  const name = `role="img" aria-label="${escapeHtml(alt)}"`;
  const beside = widthMm > height && widthMm <= BESIDE_MM.height && heightMm <= BESIDE_MM.width;
  if (beside || (heightMm <= width && widthMm <= height)) {
    const turned = { widthMm: heightMm, heightMm: widthMm };
    return {
      svg: `<svg class="life" viewBox="0 0 ${heightMm} ${widthMm}" ${name} style="${sized(turned)}"><g transform="translate(${heightMm} 0) rotate(90)"><use href="#picture-${which}"/></g></svg>`,
      note: "Turned by a quarter to fit the sheet.",
      beside,
    };
  }
  const part = { widthMm: Math.min(width, widthMm), heightMm: Math.min(height, heightMm) };
  const [left, top] = [(widthMm - part.widthMm) / 2, (heightMm - part.heightMm) / 2];
  return {
    svg: `<svg class="life" viewBox="${left} ${top} ${part.widthMm} ${part.heightMm}" ${name} style="${sized(part)}"><use href="#picture-${which}"/></svg>`,
    note: `The piece is larger than the sheet: this is its middle, ${sizeWords(part, units)}.`,
  };
}

/** The picture under the loupe. */
export const loupeFieldPicture = (report: Report): string =>
  shown("predicted", report.job, altWords("predicted", report));
