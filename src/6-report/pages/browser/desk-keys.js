import { isPlainKey } from "./page-parts.js";

/** @typedef {Record<"next" | "before" | "approve" | "sendBack" | "sendNote" | "takeBack" | "copy" | "pick" | "search" | "close", () => unknown>} Acts */

/** @type {Record<string, keyof Acts>} */
const KEYS = {
  ArrowDown: "next",
  j: "next",
  ArrowUp: "before",
  k: "before",
  a: "approve",
  b: "sendBack",
  u: "takeBack",
  c: "copy",
  x: "pick",
  "/": "search",
  Escape: "close",
};

/** Keys of the whole page, except where somebody types or chooses. @param {Acts} acts */
export function startKeys(acts) {
  document.addEventListener("keydown", (event) => {
    const target = event.target instanceof Element ? event.target : undefined;
    const types = target?.closest("input:not([type=checkbox], [type=radio]), textarea, select") ?? undefined;
    // A choice of several moves by arrows.
    if (target?.matches("[type=radio]") && event.key.startsWith("Arrow")) return;
    if (types instanceof HTMLElement && event.key === "Escape") types.blur();
    if (
      types instanceof HTMLTextAreaElement &&
      event.key === "Enter" &&
      !event.shiftKey &&
      isPlainKey(event)
    ) {
      event.preventDefault();
      types.blur();
      acts.sendNote();
    }
    if (types || !isPlainKey(event)) return;
    const act = KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act) return;
    event.preventDefault();
    acts[act]();
  });
}
