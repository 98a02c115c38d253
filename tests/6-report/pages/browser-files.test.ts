import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Script } from "node:vm";
import { describe, expect, it } from "vitest";
import { browserFile, pageScript } from "../../../src/6-report/pages/browser-files.js";

const folder = fileURLToPath(new URL("../../../src/6-report/pages/browser/", import.meta.url));
const modules = readdirSync(folder)
  .filter((file) => file.endsWith(".js"))
  .map((file) => file.slice(0, -".js".length));
/** Modules that no other imports. */
const pages = modules.filter((name) => name === "desk" || name.endsWith("-page"));

describe.each(pages)("the script of %s", (page) => {
  const script = pageScript(page);

  it("is one program: it parses as a plain script, which knows no import and no name twice", () => {
    expect(() => new Script(script)).not.toThrow();
    expect(script).not.toMatch(/^(import|export)\b/m);
  });

  it("declares what a module exports before whoever imports it", () => {
    const importers = modules.filter((name) => script.includes(bodyOf(name)));
    for (const name of importers)
      for (const [, imported] of browserFile(`${name}.js`).matchAll(/from "\.\/([\w-]+)\.js"/g))
        expect(script.indexOf(bodyOf(imported)), `${imported} in ${name}`).toBeLessThan(
          script.indexOf(bodyOf(name)),
        );
    expect(importers).toContain(page);
  });

  it("cannot end its own tag", () => {
    expect(script).not.toMatch(/<\/script|<!--/i);
  });
});

it("leaves no module unused", () => {
  const scripts = pages.map(pageScript);
  expect(pages).toHaveLength(3);
  for (const name of modules)
    expect(
      scripts.some((script) => script.includes(bodyOf(name))),
      name,
    ).toBe(true);
});

/** A stretch of a module that no other has, as it is in a script: its last lines, which hold no import. */
function bodyOf(name: string): string {
  const lines = browserFile(`${name}.js`).trimEnd().split("\n").slice(-3);
  return lines.map((line) => line.replace(/^export /, "")).join("\n");
}
