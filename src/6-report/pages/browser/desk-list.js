import { createChoice } from "./desk-choice.js";
import { machineTime, verdictWords } from "./desk-parts.js";
import { createRows } from "./desk-rows.js";
import { all, find } from "./page-parts.js";

/**
 * @typedef {import("./desk-parts.js").DeskParts} DeskParts
 * @typedef {import("./desk-parts.js").Item} Item
 * @typedef {import("./desk-store.js").Store} Store
 */

/** What is shown of the list, in which order, what is open and what is selected. @param {DeskParts} parts @param {Store} store */
export function createList({ items, rowsHtml, list, tools }, store) {
  const choose = createChoice(items, tools, store);
  /** @type {number[]} */
  let shown = [];
  /** @type {Set<number>} */
  const picked = new Set();
  /** @type {number | undefined} */
  let current;
  const rows = createRows(list, rowsHtml, (row, k) => {
    dressRow(row, store.verdict(items[k].pieceSha256));
    find(row, ".pick", HTMLInputElement).checked = picked.has(k);
    if (k === current) row.setAttribute("aria-current", "true");
    else row.removeAttribute("aria-current");
  });
  const tell = () => tellSums({ items, tools, store, shown, picked: [...picked] });
  const choice = () => {
    shown = choose();
    rows.show(shown);
    tell();
  };
  /** @param {number[]} which @param {boolean} isPicked */
  const pick = (which, isPicked) => {
    for (const k of which) {
      if (isPicked) picked.add(k);
      else picked.delete(k);
    }
    rows.dressAgain((k) => which.includes(k));
    tell();
  };
  tools.addEventListener("input", choice);
  tools.addEventListener("submit", (event) => event.preventDefault());
  find(tools, ".pick-shown", HTMLElement).addEventListener("click", () => pick(shown, true));
  find(tools, ".pick-none", HTMLElement).addEventListener("click", () => pick([...picked], false));
  list.addEventListener("change", ({ target }) => {
    const row = target instanceof HTMLInputElement ? target.closest("li") : null;
    if (row) pick([Number(row.dataset.item)], target instanceof HTMLInputElement && target.checked);
  });
  return {
    /** Show what the choices say, or the same with what is known now. */
    choice,
    picked: () => shown.filter((k) => picked.has(k)),
    row: rows.row,
    dressAgain: rows.dressAgain,
    /** @param {number} k */
    toggle: (k) => pick([k], !picked.has(k)),
    /** Mark an upload as open, and bring it in sight. @param {number} k */
    open(k) {
      const before = current;
      current = k;
      rows.dressAgain((each) => each === k || each === before);
      rows.bringInSight(k);
    },
    /** The shown upload that many places further, or undefined at the end. @param {number | undefined} k @param {number} step */
    beside: (k, step) => (k === undefined ? shown[0] : shown[shown.indexOf(k) + step]),
  };
}

/** @param {HTMLLIElement} row @param {import("./desk-parts.js").Decision["verdict"] | undefined} verdict */
function dressRow(row, verdict) {
  const name = find(row, ".name", HTMLAnchorElement);
  // Without a report to lead to, it opens the upload all the same.
  if (!name.hasAttribute("href")) name.href = "#";
  row.classList.toggle("approved", verdict === "approved");
  row.classList.toggle("sent-back", verdict === "sent-back");
  const there = row.querySelector(".verdict");
  if (verdict === undefined) there?.remove();
  else (there ?? addMark(row)).textContent = verdictWords(verdict);
}

/** @param {HTMLLIElement} row */
function addMark(row) {
  const mark = document.createElement("span");
  mark.className = "mark verdict";
  find(row, ".grade", HTMLElement).append(" ", mark);
  return mark;
}

/**
 * How many uploads and how much machine time: shown, selected, approved; and the counts of the choices.
 *
 * @param {{ items: Item[], tools: HTMLFormElement, store: Store, shown: number[], picked: number[] }} what
 */
function tellSums({ items, tools, store, shown, picked }) {
  /** @param {number[]} which */
  const words = (which) =>
    `${which.length} · ${machineTime(which.reduce((sum, k) => sum + items[k].seconds, 0))}`;
  /** @type {Record<string, number[]>} */
  const decided = { any: [], undecided: [], approved: [], "sent-back": [] };
  for (const [k, { pieceSha256 }] of items.entries()) {
    decided.any.push(k);
    decided[store.verdict(pieceSha256) ?? "undecided"].push(k);
  }
  const say = (/** @type {string} */ name, /** @type {string} */ text) => {
    find(tools, `.${name}`, HTMLElement).textContent = text;
  };
  say("shown", shown.length > 0 ? `Shown ${words(shown)}` : "No upload is like that.");
  say("picked", picked.length > 0 ? `Selected ${words(picked)}` : "");
  say("passed", decided.approved.length > 0 ? `Approved ${words(decided.approved)}` : "");
  for (const label of all(tools, "label[for^=verdict-]", HTMLLabelElement)) {
    const count = decided[label.htmlFor.replace("verdict-", "")].length;
    find(label, "b", HTMLElement).textContent = String(count);
  }
  for (const name of [".pick-none", ".pass-picked"])
    find(tools, name, HTMLButtonElement).hidden = picked.length === 0;
}
