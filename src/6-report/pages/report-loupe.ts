import { sizeWords } from "../../core/shown-units.js";
import type { Loupe } from "../pictures/loupe.js";
import { dataAddress } from "../pictures/page-picture.js";
import type { Report } from "../report.js";
import { escapeHtml } from "./html-page.js";
import { loupeFieldPicture } from "./report-pictures.js";

const WIDEST_VIEW_PX = 192;
/** Samples along a view's side that a page can compute between two frames of the screen. */
const MAX_SAMPLES = 960;

const widestView = ({ samplesAlong, samplesAcross }: Loupe["burn"]): number =>
  Math.max(
    64,
    Math.min(WIDEST_VIEW_PX, 4 * Math.floor(MAX_SAMPLES / Math.max(samplesAlong, samplesAcross) / 4)),
  );

/** A loupe over the piece: the pixels that burn, and the marks they leave. The page script moves it. */
export function loupeHtml(report: Report, { region, isWhole, start, png, burn }: Loupe): string {
  const { columns, rows, levels, pitchAlongMm, pitchAcrossMm, mirror, widthMm, heightMm } = report.job;
  const data = JSON.stringify({
    ...{ region, isWhole, columns, rows, levels, pitchAlongMm, pitchAcrossMm, mirror, start, burn },
  });
  const share = (part: number, whole: number): string => `${(100 * part) / whole}%`;
  const seenLeft = mirror ? columns - region.left - region.columns : region.left;
  const limits = isWhole
    ? ""
    : `<span class="reach" aria-hidden="true" style="left:${share(seenLeft, columns)};top:${share(region.top, rows)};width:${share(region.columns, columns)};height:${share(region.rows, rows)}"></span>`;
  const part = { widthMm: region.columns * pitchAlongMm, heightMm: region.rows * pitchAcrossMm };
  const reach = isWhole
    ? ""
    : ` A page cannot contain every dot of a piece this large. The loupe works inside the dashed frame, ${sizeWords(part, report.units)}.`;
  return `<section class="keep"><h2>Dots under the loupe</h2>
<figure class="loupe" data-dots="${escapeHtml(data)}"><img hidden alt="" src="${dataAddress("image/png", png)}">
<div class="views"><div><div class="field" style="--ratio:${widthMm / heightMm}">${loupeFieldPicture(report)}${limits}<span class="frame" aria-hidden="true"></span><span class="ring" tabindex="0" role="application" aria-label="Loupe. Arrow keys move it, with Shift by one pixel." aria-describedby="loupe-says"></span></div>
<p class="screen"><label>Width of the view <input type="range" min="12" max="${widestView(burn)}" step="4" value="64"></label></p></div>
<div><canvas class="bits" role="img" aria-label="The pixels that burn, ${levels > 2 ? "the darker the more power" : "in black"}" aria-describedby="loupe-says"></canvas><p>the pixels that burn</p></div>
<div><canvas class="marks" role="img" aria-label="The marks they leave" aria-describedby="loupe-says"></canvas><p>the marks they leave</p></div></div>
<figcaption><noscript>The loupe needs scripts to be allowed on this page. </noscript><output id="loupe-says" aria-live="polite"></output> <span class="screen">Drag the ring, click the picture, or use the arrow keys (with Shift by one pixel).</span>${reach}</figcaption></figure></section>`;
}
