import { readFileSync } from "node:fs";

/**
 * The text of a page's script. Its file stands where this address points to from the sources, from the package, and from the
 * bundled command. Line ends are as a browser reads them, for the page allows the script by its hash.
 */
export const pageScript = (name: string): string =>
  readFileSync(new URL(`../6-report/browser/${name}.js`, import.meta.url), "utf8").replaceAll("\r\n", "\n");
