/**
 * @typedef {import("./desk-parts.js").Item} Item
 * @typedef {import("./desk-store.js").Store} Store
 */

/** Uploads in the order of the questions that they raise. */
const GRADES = ["ask", "note", "ready", "refused", "waiting", "withdrawn"];
const byNumbers = new Intl.Collator(undefined, { numeric: true });

/** @type {Record<string, (a: Item, b: Item) => number>} */
const COMPARE = {
  name: () => 0,
  grade: (a, b) => GRADES.indexOf(a.group) - GRADES.indexOf(b.group),
  longest: (a, b) => b.seconds - a.seconds,
  shortest: (a, b) => a.seconds - b.seconds,
  order: (a, b) => byNumbers.compare(orderOf(a), orderOf(b)),
};

/** What the column "order" of the job sheet says; at the end where it says nothing. @param {Item} item */
const orderOf = ({ columns }) => columns.find(([head]) => head.toLowerCase() === "order")?.[1] ?? "\uffff";

/**
 * Which uploads the search and the choices let through, and in which order.
 *
 * @param {Item[]} items @param {HTMLFormElement} tools @param {Store} store @returns {() => number[]}
 */
export function createChoice(items, tools, store) {
  const search = createSearch(items);
  return () => {
    const [group, verdict] = [fieldValue(tools, "group"), fieldValue(tools, "verdict")];
    const same = tools.querySelector("[name=same]:checked") !== null;
    const compare = COMPARE[fieldValue(tools, "sort")] ?? COMPARE.name;
    return search(fieldValue(tools, "search"))
      .filter(
        (k) =>
          (group === "all" || items[k].group === group) &&
          (verdict === "any" || (store.verdict(items[k].pieceSha256) ?? "undecided") === verdict) &&
          (!same || items[k].same.length > 0),
      )
      .sort((a, b) => compare(items[a], items[b]) || a - b);
  };
}

/** How many texts are made ready at a time, while nobody waits. */
const AT_A_TIME = 250;

/** @param {Item[]} items @returns {(words: string) => number[]} */
function createSearch(items) {
  const all = items.map((_, k) => k);
  /** @type {string[]} */
  const texts = [];
  /** @param {number} count */
  const makeReady = (count) => {
    for (let k = texts.length; k < Math.min(count, items.length); k++) texts.push(searchText(items[k]));
  };
  const makeSome = () => {
    makeReady(texts.length + AT_A_TIME);
    if (texts.length < items.length) setTimeout(makeSome, 20);
  };
  setTimeout(makeSome, 200);
  return (given) => {
    const words = fold(given).split(/\s+/).filter(Boolean);
    if (words.length === 0) return all;
    makeReady(items.length);
    return all.filter((k) => words.every((word) => texts[k].includes(word)));
  };
}

/** What the search looks in. @param {Item} item */
const searchText = ({ file, code, short, note, message, words, columns }) =>
  fold([file, code, short, note, message, ...columns.flat(), ...words].join("\n"));

/** Without capital letters and accents. @param {string} text */
const fold = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

/** @param {HTMLFormElement} form @param {string} name */
function fieldValue(form, name) {
  const field = form.elements.namedItem(name);
  return field instanceof RadioNodeList ||
    field instanceof HTMLInputElement ||
    field instanceof HTMLSelectElement
    ? field.value
    : "";
}
