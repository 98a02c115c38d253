import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contactSheet, type SheetEntry } from "../../src/batch/contact-sheet.js";
import { preparedEntry, refusedEntry } from "../../src/batch/entry.js";
import { thumbnail } from "../../src/batch/thumbnail.js";
import { messages } from "../../src/batch/triage/words.js";
import { photographPath } from "../pipeline/photograph.js";
import { hasBrowser, type OpenedPage, type PageOpener, startBrowser } from "../support/browser.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

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

/** A page of 300 uploads, a third of them ready, a third with a note, the rest to ask about or refused. */
async function largePage(): Promise<string> {
  const photo = await sharp(photographPath("nagasaki-boats")).resize(600).png().toBuffer();
  const picture = Buffer.from(await thumbnail(photo)).toString("base64");
  const figures = {
    widthPx: 600,
    heightPx: 400,
    pxPerMm: 7.5,
    neededPxPerMm: 10,
    largestWidthMm: 60,
    clippedHighlights: 0,
    clippedShadows: 0,
    lightnessRange: 80,
    blocking: 0,
    widthMm: 80,
    heightMm: 53.3,
    linesPerInch: 254,
    method: "ostromoukhov",
    material: "slate",
    seconds: 840,
    visualErrorRms: 2.4,
  };
  const entries = Array.from({ length: 300 }, (_, i): SheetEntry => {
    const file = `week 12/boat <${i}> & nets.jpg`;
    if (i % 6 === 5) return { entry: refusedEntry(file, "INPUT_DAMAGED", `"${file}" is damaged.`) };
    const grade = (["ready", "note", "ask"] as const)[i % 3];
    const findings = grade === "ready" ? [] : [messages.tooFewPixels(grade, figures, 80)];
    const outputs = ["burn.png", "preview.png", "report.json", "report.html"].map(
      (end) => `week 12/boat ${i}/boat.${end}`,
    );
    return { entry: preparedEntry(file, findings, grade, figures, outputs), thumbnail: picture };
  });
  return contactSheet(entries);
}

describe.skipIf(!hasBrowser())("in a browser, a contact sheet of 300 uploads", () => {
  let browser: PageOpener;
  let html: string;
  let opened: OpenedPage;
  beforeAll(async () => {
    browser = await startBrowser();
    html = await largePage();
    opened = await browser.open(html, { viewport: { width: 1280, height: 900 } });
  });
  afterAll(() => browser?.close());

  const shown = () => opened.page.locator(".sheet > li:visible").count();

  it("shows all, or one grade alone, by mouse and by keyboard", async () => {
    const { page } = opened;
    expect(await shown()).toBe(300);
    await page.getByText("Refused 50").click();
    expect(await shown()).toBe(50);
    await page.getByText("Ask the customer 50").click();
    expect(await shown()).toBe(50);
    await page.keyboard.press("ArrowLeft");
    expect(await shown()).toBe(100);
    expect(await page.locator(".sheet > li:visible").first().textContent()).toMatch(
      /With a note TOO_FEW_PIXELS/,
    );
    await page.getByText("All 300").click();
    expect(await shown()).toBe(300);
  });

  it("links to each output by a path below its folder", async () => {
    const links = await opened.page
      .locator(".links a")
      .evaluateAll((all) => all.map((a) => a.getAttribute("href")));
    expect(links).toHaveLength(4 * 250);
    expect(links[0]).toBe("week%2012/boat%200/boat.burn.png");
  });

  it("says nothing on the console and asks for nothing", () => expect(opened.said).toEqual([]));

  it.each(["light", "dark"] as const)("has no fault that a checker finds, %s", async (colorScheme) => {
    const { page } = await browser.open(html, { colorScheme, viewport: { width: 390, height: 800 } });
    // Nothing to scroll sideways.
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(390);
    await page.evaluate(axe);
    const { violations } = (await page.evaluate("axe.run()")) as {
      violations: { id: string; nodes: unknown[] }[];
    };
    expect(violations.map(({ id, nodes }) => `${id}: ${JSON.stringify(nodes[0]).slice(0, 400)}`)).toEqual([]);
  });
});
