import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const GRAVE: readonly string[] = ["serious", "critical"];

/** What axe-core finds on a page: all of it, or what is serious or worse. */
export async function faultsOf(page: Page, which: "all" | "grave" = "all"): Promise<string[]> {
  await page.evaluate(axe);
  const { violations } = (await page.evaluate("axe.run()")) as {
    violations: { id: string; impact: string; nodes: { html: string }[] }[];
  };
  return violations
    .filter(({ impact }) => which === "all" || GRAVE.includes(impact))
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(" | ")}`);
}
