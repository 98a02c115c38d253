import { pageScript, pageStyle } from "../../6-report/pages/browser-files.js";
import { htmlPage } from "../../6-report/pages/html-page.js";
import { durationWords } from "../../core/words.js";
import type { PassResult } from "../lists.js";
import { deskBoards } from "./desk-boards.js";
import { deskPane } from "./desk-pane.js";
import { deskRow } from "./desk-row.js";
import { type DeskItem, type DeskUpload, deskItem } from "./desk-upload.js";
import { duplicatesOf } from "./duplicates.js";
import { GROUPS } from "./groups.js";

export type { DeskUpload } from "./desk-upload.js";

const TITLE = "Uploads of this batch";

/**
 * All uploads of a batch as one page to work at: photo beside prediction, search, approval. Without a script it is a list to read.
 * It loads nothing but the small pictures beside it.
 *
 * @param result uploads that are not in the list yet, and boards
 */
export function deskPage(
  uploads: readonly DeskUpload[],
  { remaining = 0, laid }: Pick<PassResult, "remaining" | "laid"> = {},
): string {
  const same = duplicatesOf(uploads.map(({ entry }) => entry));
  const items = uploads.map((upload) => deskItem(upload, same.get(upload.entry.file)));
  const rows = items.map((item, i) => deskRow(item, uploads[i]));
  const body = [
    `<header><h1>${TITLE}</h1><p class="quiet">${countWords(items)}${remainingWords(remaining)}</p></header>`,
    deskBoards(laid),
    '<p class="keeps answer screen" hidden></p>',
    toolsHtml(items),
    '<div class="desk">',
    // Where scripts run, the browser takes what is in here for text, however long it is; the script makes rows of it.
    `<noscript id="rows"><ol class="uploads">\n${rows.join("\n")}\n</ol></noscript>`,
    '<ol class="uploads live-rows" hidden></ol>',
    deskPane(),
    "</div>",
    `<script type="application/json" id="uploads">${jsonInHtml(items)}</script>`,
  ];
  return htmlPage(TITLE, body.join("\n"), {
    style: pageStyle("desk", "desk-list", "desk-pane"),
    script: pageScript("desk"),
    inFolder: true,
  });
}

/** JSON that ends no element: "<" does not occur in it. */
const jsonInHtml = (value: unknown): string => JSON.stringify(value).replaceAll("<", "\\u003c");

function countWords(items: readonly DeskItem[]): string {
  const open = items.filter(({ group }) => group !== "withdrawn");
  const prepared = open.filter(({ group }) => group !== "refused" && group !== "waiting");
  const seconds = prepared.reduce((sum, item) => sum + item.seconds, 0);
  return `${open.length} ${open.length === 1 ? "upload" : "uploads"}, ${prepared.length} prepared: about ${durationWords(seconds)} of machine time.`;
}

const remainingWords = (remaining: number): string =>
  remaining === 0
    ? ""
    : ` ${remaining} more ${remaining === 1 ? "is" : "are"} not done yet: the batch is at work, or was stopped. Load this page again to see more.`;

/** Orders of the list; what a shop's own column says is one where there is such a column. */
const SORTS = [
  ["name", "Name"],
  ["order", "Order"],
  ["grade", "Questions first"],
  ["longest", "Longest machine time first"],
  ["shortest", "Shortest machine time first"],
] as const;

const DECISIONS = [
  ["any", "All"],
  ["undecided", "Undecided"],
  ["approved", "Approved"],
  ["sent-back", "Sent back"],
] as const;

/** As `desk-choice.js` finds it. */
const isOrder = (head: string): boolean => head.toLowerCase() === "order";

/** Search, choices and sums. They need the script, which shows them. */
function toolsHtml(items: readonly DeskItem[]): string {
  const count = (group: string): number => items.filter((item) => item.group === group).length;
  const groups = [
    ["all", "All", items.length] as const,
    ...GROUPS.map(([group, words]) => [group, words, count(group)] as const).filter(([, , n]) => n > 0),
  ];
  const duplicates = items.filter(({ same }) => same.length > 0).length;
  const hasOrder = items.some(({ columns }) => columns.some(([head]) => isOrder(head)));
  const options = SORTS.filter(([value]) => value !== "order" || hasOrder)
    .map(([value, words]) => `<option value="${value}">${words}</option>`)
    .join("");
  return `<form class="tools screen" role="search" aria-label="Find uploads" hidden>
<p class="finds"><label class="search">Search <input type="search" name="search" autocomplete="off" aria-keyshortcuts="/"></label>
<label>Sort <select name="sort">${options}</select></label>
${duplicates > 0 ? `<label class="tick"><input type="checkbox" name="same"> Duplicates only <b>${duplicates}</b></label>` : ""}</p>
${choiceHtml("group", "Grade", groups)}
${choiceHtml(
  "verdict",
  "Decision",
  DECISIONS.map(([value, words]) => [value, words, 0] as const),
)}
<p class="sums"><output class="shown"></output> <output class="picked"></output> <output class="passed"></output> <output class="left-out"></output>
<span class="picks"><button type="button" class="pick-shown">Select these</button> <button type="button" class="pick-none" hidden>Select none</button> <button type="button" class="pass-picked" hidden>Approve the selected</button></span></p>
</form>`;
}

/** A choice of one of several, with counts. */
function choiceHtml(
  name: string,
  legend: string,
  choices: readonly (readonly [value: string, words: string, count: number])[],
): string {
  const buttons = choices.map(
    ([value, words, count], i) =>
      `<input type="radio" name="${name}" value="${value}" id="${name}-${value}"${i === 0 ? " checked" : ""}><label for="${name}-${value}">${words} <b>${count}</b></label>`,
  );
  return `<fieldset class="choice"><legend>${legend}</legend>${buttons.join("")}</fieldset>`;
}
