import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { escapeHtml } from "../../../src/6-report/pages/html-page.js";
import { type MadeTestCard, testCard, testCardPage } from "../../../src/index.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, type PageOpener, startBrowser } from "../../support/browser.js";

const options = { linesPerInch: 508, spotMm: 0.1, levels: 8, speedMmPerS: 300 };

let made: MadeTestCard;
let page: string;
beforeAll(async () => {
  made = await testCard(options);
  page = testCardPage(made.card, made.previewFile);
});

describe("the page of a test card", () => {
  it("loads nothing and runs nothing", () => {
    expect(page).not.toMatch(/<script|<link|<iframe|\son\w+=|url\((?!#)|@import|https?:/i);
    expect(page.match(/<img[^>]* src="(?!data:image\/png;base64,)/)).toBeNull();
    expect(page).toContain("default-src 'none'");
  });

  it("has every step, note and caution", () => {
    const { steps, photograph, notes, cautions } = made.card;
    const plain = page.replaceAll("\u00a0", " ").replace(/<span class="whole-word">([^<]*)<\/span>/g, "$1");
    for (const words of [...steps, ...photograph, ...notes, ...cautions])
      expect(plain).toContain(escapeHtml(words));
  });

  it("shows each pattern once, with its share and the number of its patches", () => {
    const items = [...page.matchAll(/<li><svg.*?<\/li>/gs)].map(([item]) => item);
    const shown = made.card.groups.flatMap(({ patterns }) => patterns);
    expect(items).toHaveLength(made.card.contents.patterns);
    expect(shown.map(({ number }) => number)).toEqual(items.map((_, k) => k + 1));
    for (const [k, item] of items.entries()) {
      const { number, burnFraction, patches } = shown[k];
      expect(item).toContain(`<strong>${number}</strong>`);
      expect(item).toContain(`${Math.round(100 * burnFraction)} %, ${patches} times`);
    }
  });

  it("draws the runs of a tile", () => {
    // Two of three lines: "1", "1", "0". Holes of 1 in 2: a run of two, then one of one.
    const tileOf = (name: string): string => {
      const shown = made.card.groups.flatMap(({ patterns }) => patterns).find((each) => each.name === name);
      return new RegExp(`<pattern id="tile-${shown?.number}".*?</pattern>`).exec(page)?.[0] ?? "";
    };
    expect(tileOf("lines-2-of-3")).toContain('width="1" height="3"');
    expect(tileOf("lines-2-of-3")).toContain('d="M0 0h1v1h-1zM0 1h1v1h-1z"');
    expect(tileOf("holes-1-in-2")).toMatch(/d="M[01] 0h[12]v1h-[12]zM[01] 1h[12]v1h-[12]z"/);
  });

  it("escapes the name of the material", async () => {
    const material = {
      ...{ name: "<b>cork", bareColor: "#ffffff", markedColor: "#000000", source: "<i>made up" },
      response: [
        [0, 0.6],
        [1, 0.1],
      ],
    };
    const { card } = await testCard({ ...options, material, sizeMm: { widthMm: 42, heightMm: 30 } });
    expect(testCardPage(card, made.previewFile)).not.toMatch(/<b>|<i>/);
  });
});

describe.skipIf(!hasBrowser())("in a browser, the page of a test card", () => {
  let browser: PageOpener;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser?.close());

  it.each([
    ["light", 1280],
    ["dark", 390],
  ] as const)("fits and can be read by all: %s, %i px wide", async (colorScheme, width) => {
    const { page: opened, said } = await browser.open(page, {
      colorScheme,
      viewport: { width, height: 800 },
    });
    expect(said).toEqual([]);
    expect(await opened.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    expect(await faultsOf(opened)).toEqual([]);
  });

  it("prints on four sheets, with what to do on the first", async () => {
    const { page: opened } = await browser.open(page);
    const pdf = await opened.pdf({ format: "A4" });
    expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)).toHaveLength(4);
  });
});
