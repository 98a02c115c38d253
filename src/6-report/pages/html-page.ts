import { createHash } from "node:crypto";

/** Text as it may stand in HTML, between tags and in quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character]);
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A column of a table. */
export interface TableColumn {
  readonly head: string;
  /** Explained below the table. */
  readonly title?: string;
  /** Words start at the left, numbers end at the right. */
  readonly words?: boolean;
}

/**
 * A table that scrolls on its own where the window is too narrow for it.
 *
 * @param cells texts, not HTML
 * @param marked index of a row to set off, with a word for it
 */
export function tableHtml(
  caption: string,
  columns: readonly TableColumn[],
  cells: readonly (readonly string[])[],
  marked?: { readonly row: number; readonly word: string },
): string {
  const side = ({ words }: TableColumn): string => (words ? ' class="words"' : "");
  const head = columns.map((column) => `<th scope="col"${side(column)}>${escapeHtml(column.head)}</th>`);
  const body = cells.map((line, k) => {
    const isMarked = k === marked?.row;
    const tag = isMarked ? `<th scope="row">${escapeHtml(marked.word)}</th>` : "<td></td>";
    const values = line.map((text, c) => `<td${side(columns[c])}>${escapeHtml(text)}</td>`);
    return `<tr${isMarked ? ' class="marked"' : ""}>${marked ? tag : ""}${values.join("")}</tr>`;
  });
  const corner = marked ? "<td></td>" : "";
  return `<div class="scrolls" role="region" tabindex="0" aria-label="${escapeHtml(caption)}"><table><caption>${escapeHtml(caption)}</caption><thead><tr>${corner}${head.join("")}</tr></thead><tbody>${body.join("\n")}</tbody></table></div>`;
}

/** A list of term and explanation. */
export function termsHtml(terms: readonly (readonly [term: string, meaning: string])[]): string {
  const items = terms.map(
    ([term, meaning]) => `<div><dt>${escapeHtml(term)}</dt><dd>${escapeHtml(meaning)}</dd></div>`,
  );
  return `<dl>${items.join("\n")}</dl>`;
}

/** A list of sentences. */
export const listHtml = (sentences: readonly string[]): string =>
  `<ul>${sentences.map((sentence) => `<li>${escapeHtml(sentence)}</li>`).join("\n")}</ul>`;

/**
 * A chart or picture with its words.
 *
 * @param picture HTML: an `svg` or `img`
 */
export const figureHtml = (
  title: string,
  picture: string,
  caption: string,
  heading: "h2" | "h3" = "h2",
): string =>
  `<figure><${heading}>${escapeHtml(title)}</${heading}>${picture}<figcaption>${escapeHtml(caption)}</figcaption></figure>`;

/** What a page may have beside its body. */
export interface PageExtras {
  /** Style rules beside those of every page. */
  readonly style?: string;
  /** Runs when the page is there: the only script that the page allows to run. */
  readonly script?: string;
}

/**
 * One page in one file, so that it can be mailed, archived and printed: nothing is loaded, and nothing runs but the script
 * given here.
 *
 * @param body HTML
 */
export function htmlPage(title: string, body: string, { style = "", script }: PageExtras = {}): string {
  const allowed = script === undefined ? "" : `; script-src 'sha256-${sha256(script)}'`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'${allowed}">
<title>${escapeHtml(title)}</title>
<style>${STYLE}${style}</style>
</head>
<body>
<main>
${body}
</main>${script === undefined ? "" : `\n<script>${script}</script>`}
</body>
</html>
`;
}

const sha256 = (text: string): string => createHash("sha256").update(text).digest("base64");

/** Plain and printable; colours keep a contrast of 4.5 and more on their ground. */
const STYLE = `
:root { color-scheme: light dark; --paper: #fff; --ink: #1d2327; --soft: #56616a; --faint: #8a959c; --line: #d5dade; --grid: #e4e8ea; --tint: #eef3f4; --accent: #0b5563; --second: #b4541a; --third: #7a4fa3; }
@media screen and (prefers-color-scheme: dark) {
  :root { --paper: #14181b; --ink: #e6eaec; --soft: #a9b4bb; --faint: #7d8990; --line: #39424a; --grid: #2a3238; --tint: #1d2a2e; --accent: #6cc6d6; --second: #f0a06a; --third: #c3a3ea; }
}
@media print { :root { color-scheme: light; } }
* { box-sizing: border-box; }
body { margin: 0; color: var(--ink); background: var(--paper); font: 16px/1.5 system-ui, sans-serif; }
main { max-width: 76rem; margin: 0 auto; padding: 2rem 1.25rem 3rem; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .25rem; }
h2, h3 { font-size: 1.1rem; line-height: 1.3; margin: 2rem 0 .5rem; }
h3 { font-size: 1rem; }
p { margin: .5rem 0; max-width: 90ch; }
.quiet { color: var(--soft); }
.quiet::first-letter { text-transform: uppercase; }
.answer { border-left: .3rem solid var(--accent); background: var(--tint); padding: .9rem 1.1rem; margin: 1.25rem 0; }
.answer strong { display: block; font-size: 1.35rem; line-height: 1.3; color: var(--accent); }
.answer p { margin: .35rem 0 0; max-width: 90ch; }
.pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 30rem), 1fr)); gap: 0 2rem; }
figure { margin: 0; break-inside: avoid; }
figure svg { display: block; width: 100%; height: auto; }
.key { display: flex; flex-wrap: wrap; gap: .1rem 1.2rem; list-style: none; margin: 0; padding: 0; font-size: .875rem; max-width: none; }
.key li { margin: 0; white-space: nowrap; }
.key svg { display: inline-block; width: 28px; height: 14px; margin-right: .4rem; vertical-align: -2px; fill: none; }
@media (max-width: 34rem) { figure svg text { font-size: 18px !important; } }
figcaption { color: var(--soft); font-size: .875rem; max-width: 70ch; }
.scrolls { overflow-x: auto; }
table { border-collapse: collapse; font-size: .875rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; font-size: 1.1rem; padding: 0 0 .5rem; }
th, td { padding: .3rem .55rem; text-align: right; border-bottom: 1px solid var(--line); white-space: nowrap; }
thead th { color: var(--soft); font-weight: 600; white-space: normal; vertical-align: bottom; }
td.words, th.words { text-align: left; }
tr.marked > * { background: var(--tint); font-weight: 600; }
tr.marked > th { color: var(--accent); text-align: left; }
section { margin-top: 2rem; }
dl { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 22rem), 1fr)); gap: .35rem 2rem; margin: .5rem 0; font-size: .875rem; }
dt { font-weight: 600; display: inline; }
dt::after { content: ": "; }
dd { display: inline; margin: 0; color: var(--soft); }
ul { margin: .5rem 0; padding-left: 1.2rem; max-width: 90ch; }
li { margin: .25rem 0; }
.small { font-size: .875rem; color: var(--soft); }
@media print {
  @page { margin: 14mm; }
  body { font-size: 10pt; }
  main { max-width: none; padding: 0; }
  h1 { font-size: 16pt; }
  .answer, tr.marked > * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .pair { grid-template-columns: 1fr 1fr; gap: 0 6mm; }
  .scrolls { overflow: visible; break-inside: avoid; }
  table { font-size: 7.5pt; width: 100%; }
  th, td { padding: .2rem .25rem; }
  dl, .small { font-size: 8pt; }
  thead { display: table-header-group; }
  tr, li, dl > div { break-inside: avoid; }
  h2, h3, caption { break-after: avoid; }
}
`;
