import { packageFile } from "../../core/package-files.js";

/**
 * The script of a page: `browser/<name>.js` after the modules that it imports, as one function, because a page loads nothing. They
 * are plain JavaScript with types in comments. The checked code runs in the page, only without the words `import` and `export`. So
 * the top-level names in the modules of one page must differ.
 */
export const pageScript = (name: string): string =>
  `(() => {\n"use strict";\n${modulesOf(name, new Set()).join("\n")}})();\n`;

/** A module after all its dependencies, each once. */
function modulesOf(name: string, seen: Set<string>): string[] {
  if (seen.has(name)) return [];
  seen.add(name);
  const text = browserFile(`${name}.js`);
  const imported = [...text.matchAll(/^import [^;]* from "\.\/([\w-]+)\.js";$/gm)];
  const own = text.replace(/^import [^;]*;\n/gm, "").replace(/^export (?=const |function )/gm, "");
  return [...imported.flatMap(([, each]) => modulesOf(each, seen)), own];
}

/** Style sheets of `browser/`, in this order. */
export const pageStyle = (...names: readonly string[]): string =>
  names.map((name) => browserFile(`${name}.css`)).join("");

/** A file of `browser/`, with the same line ends on every system. */
export const browserFile = (name: string): string =>
  packageFile(`6-report/pages/browser/${name}`).toString("utf8").replaceAll("\r\n", "\n");
