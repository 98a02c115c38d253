import { wholePercent } from "../../core/words.js";
import { dataAddress } from "../pictures/page-picture.js";
import type { Report } from "../report.js";
import { type LossCause, lossWords, mainCauses } from "../words/fidelity-words.js";
import { escapeHtml } from "./html-page.js";

/** A PNG of the places where distinctions are lost, clear elsewhere, and where it lies on the piece. */
export interface LossMap {
  readonly file: Uint8Array;
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Colours for the causes of a loss: of the palette of Okabe and Ito (2008), which colour-blind readers can tell apart. */
export const lossColours: Readonly<Record<LossCause, readonly [number, number, number]>> = {
  levels: [213, 94, 0],
  bare: [86, 180, 233],
  solid: [0, 114, 178],
  faint: [240, 228, 66],
  colours: [204, 121, 167],
};

/** What of the photo is lost, as a map over the pale picture with a legend. Nothing if nothing worth a word is lost. */
export function lossesHtml({ fidelity, job }: Report, map: LossMap | undefined): string {
  const causes = fidelity ? mainCauses(fidelity.lost) : [];
  if (!fidelity || causes.length === 0) return "";
  const entries = causes.map(
    (cause) =>
      `<li><i style="background:rgb(${lossColours[cause].join(" ")})"></i>${wholePercent(fidelity.lost[cause])} ${lossWords[cause]}</li>`,
  );
  const picture = map
    ? `<svg viewBox="0 0 ${job.widthMm} ${job.heightMm}" role="img" aria-label="The picture, with the places marked where differences are lost"><use href="#picture-wanted" opacity=".4"/><image x="${map.leftMm}" y="${map.topMm}" width="${map.widthMm}" height="${map.heightMm}" preserveAspectRatio="none" href="${dataAddress("image/png", map.file)}"/></svg>`
    : "";
  return `<section class="keep"><h2>What of the picture is lost</h2>
<figure class="losses" style="--ratio:${job.widthMm / job.heightMm}">${picture}<figcaption><p>On ${wholePercent(fidelity.lostShare)} of the picture, differences are gone that an eye sees in the photo from ${Math.round(job.viewDistanceMm)} mm away:</p><ul>${entries.join("\n")}</ul><p>${escapeHtml(`${wholePercent(fidelity.distinctShare)} of the photo has such differences. One counts from 3 L*, within details of ${Number(fidelity.cellMm.toPrecision(2))} to ${Number((9 * fidelity.cellMm).toPrecision(2))} mm, and is gone below 1 L* or one held tone.`)}</p></figcaption></figure></section>`;
}
