import { packageFile } from "../../core/package-files.js";

/**
 * The script of a page: `browser/<name>.js` after the modules that it imports, as one function, since a page loads nothing.
 * They are plain JavaScript with types in comments: what is checked is what runs in the page, less the words `import` and
 * `export`. So names at the top of the modules of one page must differ.
 */
export const pageScript = (name: string): string =>
  `(() => {\n"use strict";\n${modulesOf(name, new Set()).join("\n")}})();\n`;

/** A module after all that it needs, each once. */
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

/** A file of `browser/`, its lines ended alike wherever it was checked out. */
export const browserFile = (name: string): string =>
  packageFile(`6-report/pages/browser/${name}`).toString("utf8").replaceAll("\r\n", "\n");
