import { find } from "./page-parts.js";

/**
 * @typedef {{ file: string, pieceSha256: string, verdict: "approved" | "sent-back" | "open", note: string, by: string, at: string }}
 *   Decision
 * @typedef {{ file: string, group: string, code: string, pieceSha256?: string, seconds: number, short: string, figures: string[],
 *   message: string, note: string, words: string[], warnings: string[],
 *   files: string[], same: string[], columns: [string, string][], decision?: Decision }} Item see deskItem
 * @typedef {ReturnType<typeof findDeskParts>} DeskParts
 */

/** What the desk's scripts act on. */
export function findDeskParts() {
  /** @type {Item[]} */
  const items = JSON.parse(find(document, "#uploads", HTMLScriptElement).textContent ?? "");
  const lines = (find(document, "#rows", HTMLElement).textContent ?? "").split("\n");
  return {
    items,
    list: find(document, ".live-rows", HTMLOListElement),
    /** Of each item, as the page gives it to browsers without a script. */
    rowsHtml: lines.slice(1, 1 + items.length),
    tools: find(document, ".tools", HTMLFormElement),
    pane: find(document, ".pane", HTMLElement),
    keeps: find(document, ".keeps", HTMLElement),
  };
}

/** `45 s`, `12 min`, `2 h 5 min`, as on the rest of the page. @param {number} seconds */
export function machineTime(seconds) {
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const minutes = seconds / 60;
  if (minutes < 9.95) return `${minutes.toFixed(1)} min`;
  const whole = Math.round(minutes);
  return whole < 90 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** Words of a decision. @param {Decision["verdict"] | undefined} verdict */
export const verdictWords = (verdict) =>
  verdict === "approved" ? "approved" : verdict === "sent-back" ? "sent back" : "";
