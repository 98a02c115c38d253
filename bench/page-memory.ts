/*
 * Memory of a page in Chromium while it is scrolled from end to end, zoomed to the dots, and shown with every candidate. Printed are
 * the memory of its renderer (PSS of /proc: shared memory by its share) and the maximum resident memory (VmHWM, with all code of
 * the browser).
 *
 *   npm run bench:page -- compared/compare.html
 */
import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium, type Page } from "playwright-core";

const [file] = process.argv.slice(2);
if (!file) throw new Error("Name a page: npm run bench:page -- compared/compare.html");

const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu"],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(pathToFileURL(resolve(file)).href);
  await page.waitForFunction("[...document.images].every((image) => image.complete)");
  report("opened");
  await scrolledThrough(page);
  report("scrolled from end to end");
  await page.locator("[data-zoom=dots]").click();
  await scrolledThrough(page);
  report("the same at the dots");
  for (const view of await page.locator(".card .view").all()) await view.click();
  report("each brought to the slider");
} finally {
  await browser.close();
}

async function scrolledThrough(page: Page): Promise<void> {
  const high = await page.evaluate<number>("document.documentElement.scrollHeight");
  for (let y = 0; y < high; y += 600) {
    await page.evaluate(`scrollTo(0, ${y})`);
    await page.waitForTimeout(100);
  }
}

function report(when: string): void {
  const ours = descendants(process.pid).filter((pid) => commandOf(pid).includes("--type=renderer"));
  // There may also be a spare renderer, which is small.
  const largest = (file: string, name: string): number =>
    Math.max(...ours.map((pid) => kilobytes(pid, file, name))) / 1024;
  const [now, peak] = [largest("smaps_rollup", "Pss"), largest("status", "VmHWM")];
  process.stdout.write(
    `${when.padEnd(28)} ${now.toFixed(0).padStart(5)} MB, ${peak.toFixed(0)} MB maximum resident\n`,
  );
}

function descendants(of: number): number[] {
  const pids = readdirSync("/proc").filter((name) => /^\d+$/.test(name));
  const parents = pids.flatMap((pid) => {
    const parent = kilobytes(Number(pid), "status", "PPid");
    return parent > 0 ? [[Number(pid), parent] as const] : [];
  });
  const below = (parent: number): number[] =>
    parents.flatMap(([pid, its]) => (its === parent ? [pid, ...below(pid)] : []));
  return below(of);
}

/** A number from /proc about a process, or 0 if the process has ended. */
function kilobytes(pid: number, file: string, name: string): number {
  try {
    const text = readFileSync(`/proc/${pid}/${file}`, "utf8");
    return Number(new RegExp(`^${name}:\\s+(\\d+)`, "m").exec(text)?.[1] ?? 0);
  } catch {
    return 0;
  }
}

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, "utf8");
  } catch {
    return "";
  }
}
