/*
 * The page of a batch of 5,000 uploads in Chromium: how long it takes to open from the disk, and to search, sort and approve. Printed
 * are medians and the worst.
 *
 *   npm run bench:desk
 *   npm run bench:desk -- --count 5000 --runs 5 --keep FOLDER
 */
import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { chromium, type Page } from "playwright-core";
import { openDeskServer } from "../src/cli/desk/desk-server.js";
import { madeDesk } from "../tests/batch/desk/made-desk.js";

const { values } = parseArgs({
  options: {
    count: { type: "string", default: "5000" },
    runs: { type: "string", default: "5" },
    keep: { type: "string" },
  },
});
/** The task after the next frame: the change is on the screen. */
const UNTIL_PAINTED =
  "return new Promise((done) => requestAnimationFrame(() => setTimeout(() => done(performance.now() - start))));";

const runs = Number(values.runs);
const folder = values.keep ? resolve(values.keep) : mkdtempSync(join(tmpdir(), "spotpitch-desk-"));
const file = await madeDesk(folder, Number(values.count));
say(`${values.count} uploads, a page of ${(statSync(file).size / 1e6).toFixed(1)} MB`);

const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu"],
});
try {
  const [loaded, painted] = [[] as number[], [] as number[]];
  let page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  for (let run = 0; run < runs; run++) {
    await page.close();
    page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(pathToFileURL(file).href);
    await page.locator(".shown:not(:empty)").waitFor();
    loaded.push(await page.evaluate<number>("performance.getEntriesByType('navigation')[0].loadEventEnd"));
    painted.push(
      await page.evaluate<number>("performance.getEntriesByName('first-contentful-paint')[0].startTime"),
    );
  }
  report("open: loaded, the script ready", loaded);
  report("open: first content painted", painted);
  for (const words of ["quay-123", "quay", "slate 60", "nothing like it", ""]) {
    const times: number[] = [];
    for (let run = 0; run < runs; run++) {
      await page.evaluate(typing(words === "" ? "quay-7" : ""));
      times.push(await page.evaluate<number>(typing(words)));
    }
    say(`  ${await page.locator(".shown").textContent()}`);
    report(`search "${words}": until painted`, times);
  }
  report("sort by machine time", [await page.evaluate<number>(choosing("sort", "longest"))]);
  report("those to ask about", [await timed(page, "group-ask")]);
  report("all", [await timed(page, "group-all")]);
  report("approve all, kept in the folder", [await approvingAll()]);
} finally {
  await browser.close();
  if (!values.keep) rmSync(folder, { recursive: true, force: true });
}

/** A script that types into the search. Returns the time until it is painted. */
function typing(words: string): string {
  return `(() => { const field = document.querySelector("[name=search]"); field.value = ${JSON.stringify(words)};
    const start = performance.now(); field.dispatchEvent(new Event("input", { bubbles: true })); ${UNTIL_PAINTED} })()`;
}

function choosing(name: string, value: string): string {
  return `(() => { const field = document.querySelector("[name=${name}]"); field.value = "${value}";
    const start = performance.now(); field.dispatchEvent(new Event("input", { bubbles: true })); ${UNTIL_PAINTED} })()`;
}

/** The time from the click until every piece counts as approved. */
async function approvingAll(): Promise<number> {
  const desk = await openDeskServer(folder, 0);
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(desk.address);
  await page.locator(".pick-shown").click();
  const start = performance.now();
  await page.locator(".pass-picked").click();
  await page.locator("label[for=verdict-undecided] b", { hasText: /^0$/ }).waitFor();
  const ms = performance.now() - start;
  await page.close();
  await desk.close();
  return ms;
}

function timed(page: Page, id: string): Promise<number> {
  return page.evaluate<number>(
    `(() => { const start = performance.now(); document.getElementById("${id}").click(); ${UNTIL_PAINTED} })()`,
  );
}

function report(what: string, times: readonly number[]): void {
  const sorted = [...times].sort((a, b) => a - b);
  const median = sorted[Math.floor(sorted.length / 2)];
  say(
    `${what.padEnd(44)} ${median.toFixed(0).padStart(5)} ms, worst ${sorted[sorted.length - 1].toFixed(0)} ms`,
  );
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
