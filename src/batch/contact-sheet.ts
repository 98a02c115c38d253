import { escapeHtml, htmlPage } from "../6-report/pages/html-page.js";
import { timeNote } from "../6-report/words/pace-words.js";
import { powerInShort } from "../6-report/words/power-words.js";
import { lengthNumber, lengthWords, type ShownUnits, speedWords } from "../core/shown-units.js";
import { durationWords, visible } from "../core/words.js";
import type { PiecePower, UploadEntry } from "./entry.js";

/** An upload as the sheet shows it. */
export interface SheetEntry {
  readonly entry: UploadEntry;
  /** WebP in base64; absent if there is no picture. */
  readonly thumbnail?: string | undefined;
}

/** Groups that the page can show separately, with their headings. */
const GROUPS = [
  ["ready", "Ready"],
  ["note", "With a note"],
  ["ask", "Ask the customer"],
  ["waiting", "Waiting for a row"],
  ["refused", "Refused"],
  ["withdrawn", "Withdrawn"],
] as const;

/** Groups that are shown only where there are such uploads. */
const RARE = ["waiting", "withdrawn"];

type Group = (typeof GROUPS)[number][0];

const groupOf = ({ state, grade }: UploadEntry): Group => (state === "prepared" ? grade : state);

/** All uploads of a batch as one page. It loads nothing and runs no script: style rules select the group. */
export function contactSheet(entries: readonly SheetEntry[]): string {
  const counts = new Map<Group, number>();
  for (const { entry } of entries) counts.set(groupOf(entry), (counts.get(groupOf(entry)) ?? 0) + 1);
  const choices = [
    ["all", "All", entries.length] as const,
    ...GROUPS.map(([group, words]) => [group, words, counts.get(group) ?? 0] as const),
  ];
  // The buttons are siblings before the list, so that a style can depend on which one is pressed.
  const buttons = choices
    .filter(([group, , count]) => count > 0 || !RARE.includes(group))
    .map(
      ([group, words, count], i) =>
        `<input type="radio" name="show" id="show-${group}"${i === 0 ? " checked" : ""}><label for="show-${group}">${words} <b>${count}</b></label>`,
    );
  const body = [
    "<h1>Uploads of this batch</h1>",
    `<p class="quiet">${entries.filter(({ entry }) => entry.state !== "withdrawn").length} uploads, ${entries.filter(({ entry }) => entry.state === "prepared").length} prepared. Pictures show the predicted piece.</p>`,
    `<div class="choice" role="group" aria-label="Which uploads to show">${buttons.join("\n")}`,
    `<ul class="sheet">${entries.map(card).join("\n")}</ul></div>`,
  ];
  return htmlPage("Uploads of this batch", body.join("\n"), { style: STYLE });
}

function card({ entry, thumbnail }: SheetEntry): string {
  const group = groupOf(entry);
  const words = GROUPS.find(([each]) => each === group)?.[1] ?? "";
  const parts = [
    thumbnail
      ? `<div class="shown"><img src="data:image/webp;base64,${escapeHtml(thumbnail)}" alt="" decoding="async"></div>`
      : "",
    `<div class="said"><h2>${escapeHtml(visible(entry.file))}</h2>`,
    `<p class="grade">${words}${entry.code === "READY" ? "" : ` <code>${escapeHtml(entry.code)}</code>`}</p>`,
    entry.note === undefined ? "" : `<p class="small">${escapeHtml(visible(entry.note))}</p>`,
    entry.figures ? `<p class="small">${escapeHtml(figuresOf(entry.figures))}</p>` : "",
    entry.state !== "prepared" ? `<p>${escapeHtml(visible(entry.message))}</p>` : "",
    entry.customerNote ? `<p><b>To the customer:</b> ${escapeHtml(visible(entry.customerNote))}</p>` : "",
    entry.warnings
      ? `<details><summary>${entry.warnings.length === 1 ? "1 warning" : `${entry.warnings.length} warnings`} of the report</summary>${entry.warnings.map(({ message }) => `<p class="small">${escapeHtml(visible(message))}</p>`).join("")}</details>`
      : "",
    entry.outputs.length > 0 ? `<p class="links">${entry.outputs.map(link).join(" · ")}</p>` : "",
    "</div>",
  ];
  return `<li class="${group}">${parts.join("")}</li>`;
}

function figuresOf(figures: NonNullable<UploadEntry["figures"]>): string {
  const {
    widthMm,
    heightMm,
    units,
    material,
    method,
    linesPerInch,
    pxPerMm,
    visualErrorRms,
    seconds,
    power,
    start,
  } = figures;
  return [
    `${lengthNumber(widthMm, units)} × ${lengthWords(heightMm, units)} on ${material}`,
    ...(start === undefined ? [] : [`start ${start}`]),
    `${method === "none" ? "solid artwork" : method} at ${Math.round(linesPerInch)} lines per inch`,
    ...(power ? [powerOf(power, units)] : []),
    ...(pxPerMm > 0 ? [`photo ${pxPerMm.toFixed(1)} px/mm`] : []),
    ...(visualErrorRms === undefined ? [] : [`visual error ${visualErrorRms.toFixed(1)} L*`]),
    `about ${durationWords(seconds)}${timeNote(figures)}`,
  ].join(" · ");
}

function powerOf({ speedMmPerS, isSpeedAssumed, ...power }: PiecePower, units: ShownUnits): string {
  const speed = isSpeedAssumed ? "the speed of your full-tone setting" : speedWords(speedMmPerS, units);
  return `power ${powerInShort({ ...power, speedMmPerS })} at ${speed}`;
}

/** `boat.burn.png` as a link that says "burn.png". */
function link(path: string): string {
  const address = path.split("/").map(encodeURIComponent).join("/");
  const words = /[^./]+\.[^./]+$/.exec(path)?.[0] ?? path;
  return `<a href="${escapeHtml(address)}">${escapeHtml(words)}</a>`;
}

const STYLE = `
.choice > input { position: absolute; opacity: 0; }
.choice > label { display: inline-block; border: 1px solid var(--line); padding: .3rem .7rem; margin: .25rem .25rem .25rem 0; cursor: pointer; }
.choice > label b { color: var(--soft); font-weight: 600; }
.choice > input:checked + label { background: var(--accent); border-color: var(--accent); color: var(--paper); }
.choice > input:checked + label b { color: inherit; }
.choice > input:focus-visible + label { outline: 2px solid var(--accent); outline-offset: 2px; }
.sheet { list-style: none; padding: 0; margin: 1rem 0 0; max-width: none; display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 22rem), 1fr)); gap: 1rem; }
.sheet > li { display: flex; flex-direction: column; margin: 0; border: 1px solid var(--line); content-visibility: auto; contain-intrinsic-size: auto 26rem; break-inside: avoid; }
.shown { background: var(--tint); height: 12rem; display: flex; align-items: center; justify-content: center; }
.shown img { max-width: 100%; max-height: 100%; object-fit: contain; }
.said { padding: .75rem .9rem; border-top: .3rem solid var(--accent); overflow-wrap: anywhere; }
.said h2 { margin: 0; font-size: 1rem; }
.said p { margin: .35rem 0 0; font-size: .875rem; }
.grade { font-weight: 600; color: var(--accent); }
.grade code { font-weight: 400; color: var(--soft); }
li.note > .said { border-color: var(--third); } li.note .grade { color: var(--third); }
li.ask > .said { border-color: var(--second); } li.ask .grade { color: var(--second); }
li:is(.waiting, .withdrawn) > .said { border-color: var(--line); } li:is(.waiting, .withdrawn) .grade { color: var(--soft); }
li.refused > .said { border-color: var(--soft); } li.refused .grade { color: var(--soft); }
.small { color: var(--soft); }
a { color: var(--accent); }
.said details { margin-top: .35rem; font-size: .875rem; }
.said summary { cursor: pointer; color: var(--soft); }
@media print {
  .choice > label, .said details, .links { display: none; }
  .sheet { grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 4mm; margin-top: 4mm; }
  .sheet > li { content-visibility: visible; }
  .shown { height: 34mm; }
  .said { padding: 1.5mm 2mm; }
  .said h2 { font-size: 9pt; }
  .said p { font-size: 7.5pt; line-height: 1.35; }
}
${GROUPS.map(([group]) => `#show-${group}:checked ~ .sheet > li:not(.${group})`).join(",\n")} { display: none; }
`;
