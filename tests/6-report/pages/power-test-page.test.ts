import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { escapeHtml } from "../../../src/6-report/pages/html-page.js";
import { type PowerTest, powerTest, powerTestPage } from "../../../src/index.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, type PageOpener, startBrowser } from "../../support/browser.js";

const options = { linesPerInch: 254, spotMm: 0.1 };

describe("the page of a power test", () => {
  let test: PowerTest;
  let page: string;
  beforeAll(async () => {
    ({ test } = await powerTest({ ...options, speedMmPerS: 300 }));
    page = powerTestPage(test);
  });

  it("loads nothing and runs nothing", () => {
    expect(page).not.toMatch(/<script|<link|<iframe|<img|\son\w+=|url\((?!#)|@import|https?:/i);
    expect(page).toContain("default-src 'none'");
  });

  it("has a blank row for each patch, every step, note and caution, and the setting to give", () => {
    expect(page.match(/<th scope="row">\d<\/th>/g)).toHaveLength(5);
    const plain = page.replaceAll("\u00a0", " ");
    for (const words of [...test.steps, ...test.notes, ...test.cautions, test.giveAs]) {
      expect(plain).toContain(escapeHtml(words));
    }
  });

  it("shows no speed in large type that nobody gave", async () => {
    expect(page).toContain("<strong>300\u00a0mm/s</strong>");
    const own = powerTestPage((await powerTest(options)).test);
    expect(own).toContain("<strong>your own</strong>");
    expect(own.match(/<strong>[^<]*300/g)).toBeNull();
  });

  it("escapes the name of the material", async () => {
    const material = {
      ...{ name: "<b>cork", bareColor: "#ffffff", markedColor: "#000000", source: "made up" },
      response: [
        [0, 0.6],
        [1, 0.1],
      ],
    };
    expect(powerTestPage((await powerTest({ material })).test)).not.toContain("<b>");
  });
});

describe.skipIf(!hasBrowser())("in a browser, the page of a power test", () => {
  let browser: PageOpener;
  let html: string;
  beforeAll(async () => {
    browser = await startBrowser();
    html = powerTestPage((await powerTest({ ...options, linesPerInch: 200 })).test);
  });
  afterAll(() => browser?.close());

  it.each([
    ["light", 1280],
    ["dark", 390],
  ] as const)("fits and can be read by all: %s, %i px wide", async (colorScheme, width) => {
    const { page, said } = await browser.open(html, { colorScheme, viewport: { width, height: 800 } });
    expect(said).toEqual([]);
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    expect(await faultsOf(page)).toEqual([]);
  });

  it.each(["A4", "Letter"] as const)("prints on one sheet: %s", async (format) => {
    const { page } = await browser.open(html);
    const pdf = await page.pdf({ format });
    expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  });
});
