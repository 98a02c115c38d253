/*
 * What the desk does where it is looked at: search, choices and sums of the list, one upload in the pane, decisions and where they
 * are kept, and the keys.
 */
import { openKeeping } from "./desk-keep.js";
import { startKeys } from "./desk-keys.js";
import { createList } from "./desk-list.js";
import { fillPane, showDecision } from "./desk-pane.js";
import { findDeskParts } from "./desk-parts.js";
import { createStore } from "./desk-store.js";
import { all, find } from "./page-parts.js";

/** @typedef {import("./desk-parts.js").Decision["verdict"]} Verdict */

document.documentElement.classList.add("live");
const desk = findDeskParts();
const { items, pane, tools } = desk;
const store = createStore(items.flatMap(({ decision }) => (decision ? [decision] : [])));
const list = createList(desk, store);
const keeping = openKeeping(desk, store);
const form = find(pane, ".decide", HTMLFormElement);
const note = find(form, "textarea", HTMLTextAreaElement);
const by = find(form, "[name=by]", HTMLInputElement);
/** Notes that are typed and not kept yet, by upload. @type {Map<number, string>} */
const drafts = new Map();
/** @type {number | undefined} */
let current;

/** @param {number | undefined} k */
function open(k) {
  if (k === undefined) return;
  if (current !== undefined) drafts.set(current, note.value);
  current = k;
  note.value = drafts.get(k) ?? "";
  pane.hidden = false;
  document.documentElement.classList.add("opened");
  fillPane(pane, items[k], store, list.row(k));
  pane.scrollTop = 0;
  list.open(k);
  nameIn(k)?.focus({ preventScroll: true });
}

/** @param {number} k */
function nameIn(k) {
  const name = desk.list.querySelector(`[data-item="${k}"] .name`);
  return name instanceof HTMLElement ? name : undefined;
}

function close() {
  pane.hidden = true;
  document.documentElement.classList.remove("opened");
  if (current !== undefined) list.open(current);
  if (current !== undefined) nameIn(current)?.focus();
}

/** An upload that waits or was withdrawn has no piece to decide about. @param {Verdict} verdict */
function decideCurrent(verdict) {
  if (current === undefined || pane.hidden || items[current].pieceSha256 === undefined) return;
  if (verdict === "approved" && items[current].group === "refused") return;
  decide([current], verdict, note.value);
}

/**
 * Decide about uploads; then go on to the next, unless somebody is at something else by then.
 *
 * @param {number[]} which @param {Verdict} verdict @param {string} typed the note
 */
async function decide(which, verdict, typed) {
  const [first] = which;
  const next = list.beside(first, 1);
  const said = { verdict, note: typed.trim(), by: by.value.trim() };
  const made = which.flatMap((k) => {
    const { file, pieceSha256 } = items[k];
    return pieceSha256 === undefined ? [] : [{ file, pieceSha256, ...said }];
  });
  if (made.length === 0) return;
  const isStillAt = () => which.length === 1 && current === first && !pane.hidden && note.value === typed;
  try {
    const keep = await keeping;
    await keep(made);
    for (const k of which) if (drafts.get(k) === typed) drafts.delete(k);
    if (!isStillAt()) return;
    note.value = "";
    if (verdict !== "open") open(next);
  } catch (error) {
    const what = which.length === 1 ? items[first].file : `${made.length} decisions`;
    if (current === undefined || pane.hidden) {
      open(first);
      note.value = typed;
    }
    find(form, ".decided", HTMLElement).textContent =
      `Not kept: ${what}. ${error instanceof Error ? error.message : error}`;
  }
}

/** Those that ask, were refused or are decided already are left as they are: each is looked at by itself. */
function approvePicked() {
  const picked = list.picked();
  const plain = picked.filter(
    (k) => ["ready", "note"].includes(items[k].group) && store.verdict(items[k].pieceSha256) === undefined,
  );
  const left = picked.length - plain.length;
  find(tools, ".left-out", HTMLElement).textContent =
    left > 0 ? `${left} left as they are: they ask, were refused or are decided already.` : "";
  decide(plain, "approved", "");
}

async function copy() {
  const words = find(pane, ".words", HTMLElement);
  const says = find(pane, ".copied", HTMLElement);
  try {
    await navigator.clipboard.writeText(words.textContent ?? "");
    says.textContent = "Copied.";
  } catch {
    getSelection()?.selectAllChildren(words);
    says.textContent = "Selected: press Ctrl-C to copy.";
  }
}

store.onChange((pieces) => {
  list.choice();
  list.dressAgain((k) => pieces.has(items[k].pieceSha256 ?? ""));
  if (current !== undefined && pieces.has(items[current].pieceSha256 ?? ""))
    showDecision(pane, items[current], store);
});

desk.list.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : undefined;
  if (!target || target.closest(".pick, .links") || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const row = target.closest("li");
  if (!row) return;
  event.preventDefault();
  open(Number(row.dataset.item));
});
for (const button of all(form, ".buttons button", HTMLButtonElement))
  button.addEventListener("click", () => decideCurrent(verdictOf(button)));
// Enter in the field of the name decides nothing.
form.addEventListener("submit", (event) => event.preventDefault());
find(tools, ".pass-picked", HTMLElement).addEventListener("click", approvePicked);
find(pane, ".back", HTMLElement).addEventListener("click", close);
find(pane, ".copy", HTMLElement).addEventListener("click", copy);
startKeys({
  next: () => open(list.beside(current, 1)),
  before: () => open(list.beside(current, -1)),
  approve: () => decideCurrent("approved"),
  sendBack: () => !pane.hidden && note.focus(),
  sendNote: () => decideCurrent("sent-back"),
  takeBack: () => decideCurrent("open"),
  copy,
  pick: () => current !== undefined && list.toggle(current),
  search: () => find(tools, "[name=search]", HTMLInputElement).focus(),
  close,
});
keepName(by);
tools.hidden = false;
desk.list.hidden = false;
list.choice();

/** @param {HTMLButtonElement} button @returns {Verdict} */
function verdictOf({ value }) {
  return value === "approved" || value === "sent-back" ? value : "open";
}

/** The name is asked for once. @param {HTMLInputElement} field */
function keepName(field) {
  const key = "spotpitch desk name";
  try {
    field.value = localStorage.getItem(key) ?? "";
    field.addEventListener("change", () => localStorage.setItem(key, field.value));
  } catch {
    // The browser keeps nothing: the name is typed again.
  }
}
