import { escapeHtml } from "./html-page.js";

/** A sentence as HTML. A flag in it is not broken at its hyphens. */
export const proseHtml = (text: string): string =>
  escapeHtml(text).replace(/(?<![\w-])--[a-z][a-z-]*/g, '<span class="whole-word">$&</span>');

/** A command as HTML. It is broken between its options; an option longer than a line is broken anywhere. */
export function commandHtml(command: string): string {
  const parts = command.match(/(?:'[^']*'|\\.|[^'\\])+?(?= --|$)/g) ?? [];
  const html = parts.map((part) => `<span class="part">${escapeHtml(part.trim())}</span>`);
  return `<code>${html.join(" ")}</code>`;
}

/** A number and its unit stay on one line. */
export const unbroken = (text: string): string =>
  text.replace(/(\d|×) (?=(?:s|min|h|mm|in|m|%|×)(?![a-z])|\d)/g, "$1\u00a0");
