import { find } from "./page-parts.js";

/**
 * @typedef {import("./desk-parts.js").Decision} Decision
 * @typedef {import("./desk-parts.js").DeskParts} DeskParts
 * @typedef {import("./desk-store.js").Store} Store
 * @typedef {Omit<Decision, "at">} Made
 */

/** How often the decisions of others are asked for. */
const ASK_EVERY_MS = 3000;

/**
 * Where decisions are kept: in the folder, if the page comes from the command `desk`; otherwise in this browser, from which they can
 * be saved as a file. Returns what keeps some, all or none.
 *
 * @param {DeskParts} parts @param {Store} store @returns {Promise<(made: Made[]) => Promise<void>>}
 */
export const openKeeping = async ({ keeps }, store) => {
  if (/^https?:$/.test(location.protocol)) {
    const answer = await askFolder(0);
    if (answer) return keepInFolder(keeps, store, answer);
  }
  return keepInBrowser(keeps, store);
};

/** @typedef {{ decisions: Decision[], next: number, batch: string }} Answer see desk-server.ts */

/** @param {number} after @returns {Promise<Answer | undefined>} */
async function askFolder(after) {
  try {
    const response = await fetch(`decisions?after=${after}`, { cache: "no-store" });
    return response.ok ? await response.json() : undefined;
  } catch {
    return undefined;
  }
}

/** @param {HTMLElement} keeps @param {Store} store @param {Answer} first */
function keepInFolder(keeps, store, first) {
  let next = first.next;
  store.add(first.decisions);
  /** @param {string} [words] */
  const tell = (words) => {
    keeps.hidden = words === undefined;
    keeps.textContent = words ?? "";
  };
  const look = async () => {
    const answer = await askFolder(next);
    if (!answer)
      tell("The desk does not answer: it may have been ended. Start it again; until then nothing is kept.");
    else {
      next = answer.next;
      store.add(answer.decisions);
      tell(
        answer.batch === first.batch ? undefined : "The batch has changed. Load this page again to see it.",
      );
    }
    setTimeout(look, ASK_EVERY_MS);
  };
  setTimeout(look, ASK_EVERY_MS);
  return async (/** @type {Made[]} */ made) => {
    const response = await fetch("decisions", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(made),
    }).catch(() => undefined);
    if (!response) throw new Error("The desk does not answer: it may have been ended. Start it again.");
    const said = await response.json();
    if (!response.ok) throw new Error(said.error);
    store.add(said);
  };
}

/** @param {HTMLElement} keeps @param {Store} store */
function keepInBrowser(keeps, store) {
  const key = `spotpitch desk ${location.pathname}`;
  /** @type {Decision[]} */
  let own = read(key).filter(
    ({ pieceSha256, at }) => !store.history(pieceSha256).some((kept) => kept.at === at),
  );
  store.add(own);
  const show = () => offer(keeps, own);
  if (own.length > 0) show();
  return async (/** @type {Made[]} */ made) => {
    const at = new Date().toISOString();
    // Another tab may have kept some meanwhile.
    own = distinctDecisions([...read(key), ...own, ...made.map((each) => ({ ...each, at }))]);
    store.add(own);
    show();
    try {
      localStorage.setItem(key, JSON.stringify(own));
    } catch {
      throw new Error("This browser keeps nothing for a page from the disk. Save the decisions as a file.");
    }
  };
}

/** @param {Decision[]} decisions */
const distinctDecisions = (decisions) => [
  ...new Map(decisions.map((each) => [JSON.stringify(each), each])).values(),
];

/** @param {string} key @returns {Decision[]} */
function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "[]");
  } catch {
    return [];
  }
}

/** Tell where the decisions are, and offer them as a file. @param {HTMLElement} keeps @param {Decision[]} own */
function offer(keeps, own) {
  if (keeps.hidden) {
    keeps.innerHTML =
      '<span class="count"></span> kept in this browser only. Save them as a file and put it into the folder <code>decisions</code>, or work with <code>spotpitch desk</code>, which keeps them there. <button type="button">Save as a file</button>';
    find(keeps, "button", HTMLButtonElement).addEventListener("click", () => save(keeps));
    keeps.hidden = false;
  }
  keeps.dataset.own = JSON.stringify(own);
  find(keeps, ".count", HTMLElement).textContent =
    own.length === 1 ? "1 decision is" : `${own.length} decisions are`;
}

/** @param {HTMLElement} keeps */
function save(keeps) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([keeps.dataset.own ?? "[]"], { type: "application/json" }));
  link.download = `decisions-${new Date().toISOString().replace(/[:.]/g, "-")}.json`;
  link.click();
  URL.revokeObjectURL(link.href);
}
