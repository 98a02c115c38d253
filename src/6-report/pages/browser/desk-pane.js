import { verdictWords } from "./desk-parts.js";
import { find } from "./page-parts.js";

/**
 * @typedef {import("./desk-parts.js").Item} Item
 * @typedef {import("./desk-store.js").Store} Store
 */

/**
 * Show an upload in the pane.
 *
 * @param {HTMLElement} pane @param {Item} item @param {Store} store @param {HTMLLIElement} row whose words and pictures it takes
 */
export function fillPane(pane, item, store, row) {
  const grade = find(row, ".grade span", HTMLElement).textContent ?? "";
  put(pane, "#pane-name", item.file);
  put(pane, ".grade", item.code === "READY" ? grade : `${grade} · ${item.code}`);
  pane.dataset.group = item.group;
  put(pane, ".same", item.same.length > 0 ? `The same file was sent as ${item.same.join(", ")}.` : "");
  for (const which of [".photo", ".prediction"])
    showPicture(find(pane, which, HTMLElement), row.querySelector(`.pictures ${which}`));
  showCustomer(pane, item);
  showShop(pane, item);
  showDecision(pane, item, store);
}

/** What was decided, and by whom. @param {HTMLElement} pane @param {Item} item @param {Store} store */
export function showDecision(pane, { pieceSha256, group }, store) {
  const [last, ...earlier] = store.history(pieceSha256);
  const form = find(pane, ".decide", HTMLFormElement);
  form.hidden = pieceSha256 === undefined;
  find(form, ".approve", HTMLElement).hidden = group === "refused";
  const verdict = store.verdict(pieceSha256);
  form.dataset.verdict = verdict ?? "";
  find(form, ".take-back", HTMLElement).hidden = verdict === undefined;
  put(pane, ".decided", verdict === undefined || !last ? "" : decisionWords(last));
  put(pane, ".copied", "");
  listIn(find(pane, ".history", HTMLDetailsElement), earlier.map(decisionWords));
}

/** @param {import("./desk-parts.js").Decision} decision */
function decisionWords({ verdict, by, at, note }) {
  const what = verdict === "open" ? "taken back" : verdictWords(verdict);
  const who = by ? ` by ${by}` : "";
  const when = new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
  return `${what[0].toUpperCase()}${what.slice(1)}${who}, ${when}${note ? `: ${note}` : ""}`;
}

/** @param {HTMLElement} pane @param {Item} item */
function showCustomer(pane, { words: [lead, ...more] }) {
  find(pane, ".customer", HTMLElement).hidden = lead === undefined;
  put(pane, ".words", lead ?? "");
  const details = find(pane, ".more", HTMLDetailsElement);
  listIn(details, more);
  put(details, "summary", more.length === 1 ? "1 more point" : `${more.length} more points`);
}

/** @param {HTMLElement} pane @param {Item} item */
function showShop(pane, { message, note, columns, figures, warnings, files }) {
  put(
    pane,
    ".order",
    [...columns.map(([head, cell]) => `${head}: ${cell}`), note].filter(Boolean).join(" · "),
  );
  put(pane, ".message", message);
  find(pane, ".figures", HTMLElement).replaceChildren(...figures.map(listItem));
  const details = find(pane, ".warnings", HTMLDetailsElement);
  listIn(details, warnings);
  put(
    details,
    "summary",
    warnings.length === 1 ? "1 warning of the report" : `${warnings.length} warnings of the report`,
  );
  find(pane, ".links", HTMLElement).replaceChildren(
    ...files.map((path) => {
      const link = document.createElement("a");
      link.href = path.split("/").map(encodeURIComponent).join("/");
      // "burn.png" of boat.burn.png
      link.textContent = /[^./]+\.[^./]+$/.exec(path)?.[0] ?? path;
      return link;
    }),
  );
}

/** @param {HTMLElement} figure @param {Element | null} small the picture of the row */
function showPicture(figure, small) {
  const image = find(figure, "img", HTMLImageElement);
  const picture = small instanceof HTMLImageElement ? small : undefined;
  figure.hidden = picture === undefined;
  image.src = picture?.src ?? "";
  image.alt = picture?.alt ?? "";
}

/** A folded list, gone where it is empty. @param {HTMLDetailsElement} details @param {string[]} texts */
function listIn(details, texts) {
  details.hidden = texts.length === 0;
  details.open = false;
  find(details, "ul", HTMLElement).replaceChildren(...texts.map(listItem));
}

/** @param {string} text */
function listItem(text) {
  const item = document.createElement("li");
  item.textContent = text;
  return item;
}

/** A text; its element is gone where it is empty. @param {ParentNode} within @param {string} selector @param {string} text */
function put(within, selector, text) {
  const element = find(within, selector, HTMLElement);
  element.textContent = text;
  element.hidden = text === "" && !element.hasAttribute("role");
}
