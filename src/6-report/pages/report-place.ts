import type { Report } from "../report.js";
import { diametersNote, placeWords, rotaryWords, startWords } from "../words/placing-words.js";
import { escapeHtml } from "./html-page.js";
import { placeDrawing } from "./place-drawing.js";
import { unrolledSheet } from "./unrolled.js";
import { coneSurface, cylinderSurface } from "./unrolled-surface.js";

/** Where the picture lies on its round piece: the surface unrolled, cut open at the user's mark. */
export function placeHtml({ job, units }: Report): string {
  const { around } = job;
  if (!around?.placed) return "";
  const { placed, circumferenceMm } = around;
  const sheet = unrolledSheet(around);
  const surface = sheet ? coneSurface(sheet, placed) : cylinderSurface(circumferenceMm, placed);
  const words = [placeWords(placed, units), rotaryWords(around, units), diametersNote(around)];
  return `<section class="keep"><h2>Where it goes</h2>
<p>${escapeHtml(startWords(placed, units))}</p>
<figure class="place">${placeDrawing(surface, placed, job.heightMm, units)}
<figcaption>${escapeHtml(words.filter((part) => part !== undefined).join(" "))}</figcaption></figure></section>`;
}
