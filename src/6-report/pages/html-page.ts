import { createHash } from "node:crypto";
import { browserFile } from "./browser-files.js";

/** Text escaped for HTML, between tags and in quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character]);
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Optional parts of a page beside its body. */
export interface PageExtras {
  /** Style rules in addition to those of every page. */
  readonly style?: string;
  /** Runs when the page is loaded. It is the only script that the page allows. */
  readonly script?: string;
  /** It also shows pictures of the folder in which it lies, and talks to the server that it comes from. */
  readonly inFolder?: boolean;
}

/**
 * One page in one file that can be mailed, archived and printed. It loads nothing, unless it says so, and runs only this script.
 *
 * @param body HTML
 */
export function htmlPage(title: string, body: string, extras: PageExtras = {}): string {
  const { style = "", script, inFolder } = extras;
  // A page from the disk has no origin that 'self' could mean.
  const pictures = inFolder ? "data: 'self' file:; connect-src 'self'" : "data:";
  const allowed = script === undefined ? "" : `; script-src 'sha256-${sha256(script)}'`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src ${pictures}; base-uri 'none'; form-action 'none'${allowed}">
<title>${escapeHtml(title)}</title>
<style>${browserFile("page.css")}${style}</style>
</head>
<body>
<main>
${body}
</main>${script === undefined ? "" : `\n<script>${script}</script>`}
</body>
</html>
`;
}

const sha256 = (text: string): string => createHash("sha256").update(text).digest("base64");
