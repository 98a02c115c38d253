import { packageFile } from "../../core/package-files.js";

/**
 * The script of a page, as it stands in `browser/`: plain JavaScript with types in comments, so that what is checked and what
 * runs in the page are the same text.
 */
export const pageScript = (name: string): string =>
  packageFile(`6-report/pages/browser/${name}.js`).toString("utf8").replaceAll("\r\n", "\n");
