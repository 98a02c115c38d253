import type { Report } from "../report.js";
import { escapeHtml } from "./html-page.js";
import { proseHtml, unbroken } from "./prose-html.js";

/** The head of a page: its name, and below it its subject as HTML. */
export const headHtml = (title: string, about: string, more = ""): string =>
  `<header><h1>${escapeHtml(title)}</h1><p class="quiet">${about}</p>${more}</header>`;

/**
 * The foot of a page with a prediction.
 *
 * @param source of the material's figures
 */
export function footHtml({ name, version }: Report["tool"], source?: string): string {
  const figures = source === undefined ? "" : `<p>${escapeHtml(source)}</p>`;
  return `<footer class="small">${figures}<p>${escapeHtml(`${name} ${version}`)}. A prediction comes from a model, which does not include grain, knots, soot or heat that builds up.</p></footer>`;
}

/** A figure that is readable from a distance. Its value is HTML. */
export type Tile = readonly [name: string, value: string, note: string];

export function tilesHtml(label: string, tiles: readonly Tile[]): string {
  const items = tiles.map(
    ([name, value, note]) =>
      `<div><dt>${escapeHtml(name)}</dt><dd><strong>${value}</strong> <span>${proseHtml(note)}</span></dd></div>`,
  );
  return `<section aria-label="${label}"><dl class="settings">${items.join("\n")}</dl></section>`;
}

/** Wide content that scrolls separately if the window is too narrow. */
export const scrollsHtml = (label: string, html: string): string =>
  `<div class="scrolls" role="region" tabindex="0" aria-label="${escapeHtml(label)}">${html}</div>`;

/** A column of a table. */
export interface TableColumn {
  readonly head: string;
  /** Words align left, numbers align right. */
  readonly words?: boolean | undefined;
}

/** Columns that a phone shows. If a table has more, its caption says so. */
const COLUMNS_IN_SIGHT = 5;

/**
 * A table that scrolls separately if the window is too narrow.
 *
 * @param cells texts, not HTML
 * @param marked index of a row to highlight, with a word for it
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
  const more =
    columns.length > COLUMNS_IN_SIGHT
      ? `<small class="sideways">${columns.length} columns: scroll sideways to see them all</small>`
      : "";
  return scrollsHtml(
    caption,
    `<table><caption>${escapeHtml(caption)}${more}</caption><thead><tr>${corner}${head.join("")}</tr></thead><tbody>${body.join("\n")}</tbody></table>`,
  );
}

/** A list of term and explanation. */
export function termsHtml(terms: readonly (readonly [term: string, meaning: string])[]): string {
  const items = terms.map(
    ([term, meaning]) => `<div><dt>${escapeHtml(term)}</dt><dd>${escapeHtml(meaning)}</dd></div>`,
  );
  return `<dl>${items.join("\n")}</dl>`;
}

/** A section that opens when it is wanted. On paper it is open. */
export const foldedHtml = (heading: string, html: string): string =>
  `<details class="folded"><summary><h2>${escapeHtml(heading)}</h2></summary>${html}</details>`;

/** A list of sentences. */
export const listHtml = (sentences: readonly string[]): string =>
  `<ul>${sentences.map((sentence) => `<li>${proseHtml(sentence)}</li>`).join("\n")}</ul>`;

/** Sentences to follow in order. A number stays with its unit. */
export const orderedListHtml = (steps: readonly string[]): string =>
  `<ol>${steps.map((step) => `<li>${proseHtml(unbroken(step))}</li>`).join("\n")}</ol>`;

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
