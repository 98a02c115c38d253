/**
 * @typedef {import("./desk-parts.js").Decision} Decision
 * @typedef {ReturnType<typeof createStore>} Store
 */

/** Every decision that the page knows: of the folder, of this browser, of others who decide now. @param {Decision[]} first */
export function createStore(first) {
  /** @type {Map<string, Decision[]>} */
  const byPiece = new Map();
  /** @type {((pieces: Set<string>) => void)[]} */
  const listeners = [];
  /** @param {Decision[]} decisions */
  const add = (decisions) => {
    const changed = new Set();
    for (const decision of decisions) {
      const known = byPiece.get(decision.pieceSha256) ?? [];
      if (known.some((each) => isSameDecision(each, decision))) continue;
      byPiece.set(decision.pieceSha256, [...known, decision].sort(laterFirst));
      changed.add(decision.pieceSha256);
    }
    if (changed.size > 0) for (const listener of listeners) listener(changed);
  };
  add(first);
  return {
    add,
    /** All about a piece, the one that counts first. @param {string | undefined} piece */
    history: (piece) => byPiece.get(piece ?? "") ?? [],
    /** Undefined if nothing was decided, or it was taken back. @param {string | undefined} piece */
    verdict(piece) {
      const verdict = byPiece.get(piece ?? "")?.[0].verdict;
      return verdict === "open" ? undefined : verdict;
    },
    /** Called with the pieces about which something new is known. @param {(pieces: Set<string>) => void} listener */
    onChange: (listener) => void listeners.push(listener),
  };
}

/** @param {Decision} a @param {Decision} b */
const isSameDecision = (a, b) =>
  a.at === b.at && a.verdict === b.verdict && a.note === b.note && a.by === b.by;

/** The order of latestDecisions. @param {Decision} a @param {Decision} b */
const laterFirst = (a, b) =>
  Date.parse(b.at) - Date.parse(a.at) || (JSON.stringify(a) < JSON.stringify(b) ? 1 : -1);
