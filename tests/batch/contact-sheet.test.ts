import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contactSheet, type SheetEntry } from "../../src/batch/contact-sheet.js";
import { type PiecePower, preparedEntry, refusedEntry } from "../../src/batch/entry.js";
import { batchCsv, verdictOf } from "../../src/batch/lists.js";
import { thumbnail } from "../../src/batch/thumbnail.js";
import { METRIC } from "../../src/core/shown-units.js";
import { prepare } from "../../src/index.js";
import type { Finding } from "../../src/pipeline/triage/findings.js";
import { photographPath } from "../pipeline/photograph.js";
import { faultsOf } from "../support/axe.js";
import { hasBrowser, type OpenedPage, type PageOpener, startBrowser } from "../support/browser.js";

describe("contactSheet", () => {
  const name = `<img src=x onerror=alert(1)>"'&\n\u202egpj.jpg`;
  const page = contactSheet([{ entry: refusedEntry(name, "INPUT_DAMAGED", `"${name}" is damaged.`) }]);

  it("shows hostile names as text, control characters as marks", () => {
    expect(page).toContain("&lt;img src=x onerror=alert(1)&gt;&quot;&#39;&amp;��gpj.jpg");
    expect(page).not.toMatch(/<img|\u202e/);
  });
  it("runs nothing and loads nothing", () => {
    expect(page).not.toMatch(/<script|<link|https?:|@import|url\(/i);
    expect(page).toContain("default-src 'none'");
  });
});

const figures = {
  ...{ widthPx: 1200, heightPx: 900, pxPerMm: 15, neededPxPerMm: 10, largestWidthMm: 120, blurMm: 0.1 },
  ...{
    clippedHighlights: 0,
    clippedShadows: 0,
    lightnessRange: 80,
    blocking: 0.1,
    widthMm: 80,
    heightMm: 60,
    units: METRIC,
    assumed: [],
  },
  ...{ linesPerInch: 254, method: "floyd-steinberg", material: "slate", seconds: 300, visualErrorRms: 0.6 },
};

it("names the power of each pass, and its speed", () => {
  const sheetOf = (power: PiecePower) =>
    contactSheet([
      { entry: preparedEntry("boat.jpg", { findings: [], figures: { ...figures, power } }, []) },
    ]);
  const power = { percent: 20, passes: 2, speedMmPerS: 150 };
  expect(sheetOf(power)).toContain("power 20 %, 2 passes at 150 mm/s");
  expect(sheetOf({ ...power, isSpeedAssumed: true })).toContain("at the speed of your full-tone setting");
  expect(contactSheet([{ entry: preparedEntry("boat.jpg", { findings: [], figures }, []) }])).not.toContain(
    "power",
  );
});

it("and so does the list for a spreadsheet", () => {
  const power = { percent: 20.04, passes: 2, speedMmPerS: 150 };
  const entry = preparedEntry("boat.jpg", { findings: [], figures: { ...figures, power } }, []);
  const [head, row] = batchCsv([verdictOf({ entry }, undefined)])
    .split("\n")
    .map((line) => line.split(","));
  expect([row[head.indexOf("power percent")], row[head.indexOf("passes")]]).toEqual(["20.0", "2"]);
});

/** 300 uploads in turn: ready, with a note, to ask about, refused. */
async function pile(): Promise<SheetEntry[]> {
  const picture = await sharp({ create: { width: 320, height: 240, channels: 3, background: "#765" } })
    .webp()
    .toBuffer();
  const thumbnail = picture.toString("base64");
  const finding = (grade: "note" | "ask"): Finding => ({
    code: "BLURRED",
    grade,
    message: "Your picture looks out of focus.",
    data: {},
  });
  return Array.from({ length: 300 }, (_, i) => {
    const file = `week 12/quay-${i}.jpg`;
    const outputs = ["burn.png", "preview.png", "report.html", "report.json"].map(
      (end) => `quay-${i}/${end}`,
    );
    if (i % 4 === 3) return { entry: refusedEntry(file, "INPUT_DAMAGED", `"${file}" is damaged.`) };
    const grade = (["ready", "note", "ask"] as const)[i % 4];
    const findings = grade === "ready" ? [] : [finding(grade)];
    return { entry: preparedEntry(file, { findings, figures }, outputs), thumbnail };
  });
}

describe.skipIf(!hasBrowser())("a page of 300 uploads in a browser", () => {
  let browser: PageOpener;
  let opened: OpenedPage;
  beforeAll(async () => {
    browser = await startBrowser();
    opened = await browser.open(contactSheet(await pile()));
  });
  afterAll(() => browser.close());
  const shown = () => opened.page.locator(".sheet > li:visible").count();

  it("shows what is asked for, by mouse and by keys", async () => {
    const { page } = opened;
    expect(await shown()).toBe(300);
    await page.getByText("Ask the customer", { exact: false }).first().click();
    expect(await shown()).toBe(75);
    expect(await page.locator(".sheet > li:visible.ask").count()).toBe(75);
    await page.keyboard.press("ArrowRight");
    expect(await page.locator(".sheet > li:visible.refused").count()).toBe(75);
    expect(await shown()).toBe(75);
    await page.getByText("All", { exact: false }).first().click();
    expect(await shown()).toBe(300);
  });

  it("leads to the files of an upload, by addresses that stay in its folder", async () => {
    const links = opened.page.locator(".sheet > li").first().locator("a");
    expect(await links.allTextContents()).toEqual(["burn.png", "preview.png", "report.html", "report.json"]);
    expect(await links.first().getAttribute("href")).toBe("quay-0/burn.png");
  });

  it("is in order for readers of any kind, light and dark", async () => {
    const { page } = opened;
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await faultsOf(page, "grave")).toEqual([]);
    }
  });

  it("fits a telephone", async () => {
    const { page } = await browser.open(contactSheet(await pile()), {
      viewport: { width: 390, height: 800 },
    });
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
    await page.context().close();
  });

  it("prints three uploads side by side, with nothing to click", async () => {
    const { page } = opened;
    await page.emulateMedia({ media: "print" });
    const tops = await page.evaluate<number[]>(
      "[...document.querySelectorAll('.sheet > li')].slice(0, 4).map((item) => item.getBoundingClientRect().top)",
    );
    expect(tops[1]).toBe(tops[0]);
    expect(tops[2]).toBe(tops[0]);
    expect(tops[3]).toBeGreaterThan(tops[0]);
    expect(await page.locator(".links:visible, .choice > label:visible").count()).toBe(0);
    await page.emulateMedia({ media: null });
  });

  it("says nothing and asks for nothing", () => {
    expect(opened.said).toEqual([]);
  });
});

describe("thumbnail", () => {
  it("shows the piece alone, not the paper round it", async () => {
    const photo = await readFile(photographPath("nagasaki-boats"));
    const options = { widthMm: 12, linesPerInch: 254, method: "floyd-steinberg", material: "slate" };
    const { previewFile, report } = await prepare(photo, options);
    const small = await thumbnail(previewFile ?? new Uint8Array(), report.job);
    const { width = 0, height = 0 } = await sharp(small).metadata();
    expect(Math.abs(width / height - report.job.widthMm / report.job.heightMm)).toBeLessThan(0.02);
    // Paper is 0xf6 throughout; slate is not.
    const { channels } = await sharp(small).stats();
    expect(Math.max(...channels.map(({ max }) => max))).toBeLessThan(0xf0);
  });
});
