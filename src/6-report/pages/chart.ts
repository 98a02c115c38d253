import { inPageColours } from "./chart-colours.js";
import { HEIGHT_PX, WIDTH_PX } from "./chart-layout.js";
import { optionOf } from "./chart-option.js";
import type { Chart, ChartLine } from "./chart-types.js";
import { escapeHtml } from "./html-page.js";

export type { Chart } from "./chart-types.js";

/** A chart with its key, as HTML. It is drawn here, so that the page needs no script for it. */
export async function chartHtml(chart: Chart): Promise<string> {
  return inPageColours(keyHtml(chart.lines) + (await chartSvg(chart)));
}

/** The key is HTML, because the chart library can only guess the width of texts. Lines of one name, as both ends of a band, have one entry. */
function keyHtml(lines: readonly ChartLine[]): string {
  const distinct = lines.filter(({ name }, k) => lines.findIndex((line) => line.name === name) === k);
  const items = distinct.map(({ name, colour, width = 1.5, dash = "solid", symbol = "circle" }) => {
    const strokes = DASHES[dash];
    const line = `<path d="M0 7h28" stroke="${colour}" stroke-width="${width}" stroke-dasharray="${strokes}"/>`;
    return `<li><svg viewBox="0 0 28 14" aria-hidden="true">${line}<path d="${SYMBOLS[symbol]}" fill="${colour}"/></svg>${escapeHtml(name)}</li>`;
  });
  return `<ul class="key">${items.join("")}</ul>`;
}

const DASHES = { solid: "none", dashed: "5 3", dotted: "2 3" } as const;

/** Outlines around (14, 7). */
const SYMBOLS = {
  circle: "M10 7a4 4 0 1 0 8 0a4 4 0 1 0 -8 0",
  rect: "M10 3h8v8h-8z",
  triangle: "M14 2.5l4.5 8h-9z",
  diamond: "M14 2.5l4.5 4.5l-4.5 4.5l-4.5 -4.5z",
  none: "",
} as const;

async function chartSvg(chart: Chart): Promise<string> {
  // The library is large, so it is loaded only if a page is drawn.
  const { drawSvg } = await import("./chart-library.js");
  const drawn = drawSvg(optionOf(chart), WIDTH_PX, HEIGHT_PX);
  const own = withoutHover(drawn).replace(/\bzr\d+-/g, `${chart.id}-`);
  const name = escapeHtml(chart.summary);
  // A narrow window has its own text size.
  const sized = own.replace(/font-size:(\d+)px/g, "font-size:var(--chart-text,$1px)");
  return sized.replace(/^<svg [^>]*>/, (tag) => {
    const sizeless = tag.replace(/ (?:width|height)="[^"]*"/g, "");
    const box = sizeless.includes("viewBox") ? "" : ` viewBox="0 0 ${WIDTH_PX} ${HEIGHT_PX}"`;
    return `${sizeless.slice(0, -1)}${box} role="img" aria-label="${name}">`;
  });
}

/** Classes that the library adds for a mouse. Their running numbers would make every drawing different. */
const withoutHover = (svg: string): string =>
  svg.replace(/<style[^>]*>.*?<\/style>/gs, "").replace(/ (?:class|pointer-events|ecmeta_\w+)="[^"]*"/g, "");
