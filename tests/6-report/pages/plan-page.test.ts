import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { escapeHtml, htmlPage } from "../../../src/6-report/pages/html-page.js";
import { tableHtml } from "../../../src/6-report/pages/html-parts.js";
import { type DetailPicture, type Plan, type PlanOptions, planPage } from "../../../src/index.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, type PageOpener, startBrowser } from "../../support/browser.js";
import { plan } from "../../support/prepare.js";

const jobs: Record<string, PlanOptions> = {
  strip: { kind: "strip", widthMm: 60, heightMm: 40, spotMm: 0.115, material: "coated-steel" },
  shade: { kind: "shade", widthMm: 60, heightMm: 40, spotMm: [0.08, 0.115], material: "maple" },
  photo: { widthMm: 8, spotMm: 0.115, method: "floyd-steinberg", densities: [166, 254], minutes: 5 },
};

describe.each(Object.keys(jobs))("the page of a plan to %s", (kind) => {
  let made: Plan;
  let page: string;
  beforeAll(async () => {
    made = await plan(jobs[kind], undefined, { curves });
    page = await planPage(made);
  });

  it("loads nothing and runs nothing", () => {
    expect(page).not.toMatch(/<script|<link|<iframe|<img|\son\w+=|url\((?!#)|@import/i);
    // The only address is the namespace of SVG.
    expect(
      page.replaceAll("http://www.w3.org/2000/svg", "").replaceAll("http://www.w3.org/1999/xlink", ""),
    ).not.toMatch(/https?:|\/\/\w/);
    expect(page).toContain("default-src 'none'");
  });

  it("closes what it opens", () => {
    const open: string[] = [];
    for (const [, slash, tag, selfClosed] of page.matchAll(/<(\/?)([a-z][a-z0-9]*)\b[^>]*?(\/?)>/gi)) {
      if (["meta", "br"].includes(tag) || selfClosed) continue;
      if (!slash) open.push(tag);
      else expect(open.pop()).toBe(tag);
    }
    expect(open).toEqual([]);
  });

  it("names its pictures and its tables for those who cannot see them", () => {
    expect(page).toContain('<html lang="en">');
    expect(page.match(/<h1/g)).toHaveLength(1);
    expect(page.match(/<svg [^>]*role="img" aria-label="[^"]{40,}"/g)).toHaveLength(2);
    expect(page).toMatch(/<caption>/);
    // A photo has a second table, of its expected error.
    expect(page.match(/<th scope="row">chosen<\/th>/g)).toHaveLength(kind === "photo" ? 2 : 1);
    // Ids are unique on the page.
    const ids = [...page.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("holds reason, notes, cautions and a row for each density", () => {
    expect(page).toContain(escapeHtml(made.recommended.reason));
    for (const { message } of made.notes) expect(page).toContain(escapeHtml(message));
    for (const caution of made.cautions) expect(page).toContain(escapeHtml(caution));
    const body = page.slice(page.indexOf("<tbody>"), page.indexOf("</tbody>"));
    expect(body.match(/<tr/g)).toHaveLength(made.rows.length);
  });

  it("shows a photo's expected error in its two parts, and says what they are", () => {
    if (kind !== "photo") {
      expect(page).not.toMatch(/Unevenness|Tone shift/);
      return;
    }
    const table = page.slice(page.indexOf("The expected error in its two parts"));
    for (const { expectedVisualError = 0, unevenness = 0, toneShift = 0 } of made.rows) {
      const cells = [expectedVisualError, unevenness, toneShift].map(
        (value) => `<td>${value.toFixed(2)}</td>`,
      );
      expect(table).toContain(cells.join(""));
    }
    expect(page.match(/Unevenness: what you see within the piece/g)).toHaveLength(1);
    expect(page.match(/Tone shift: all tones lighter or darker/g)).toHaveLength(1);
  });

  it("is the same when drawn again", async () => {
    expect(await planPage(made)).toBe(page);
  });
});

/** Trials are kept from one plan to the next. */
const curves = new Map();

describe("the strip of details", () => {
  it("has a picture for each density in their order, and marks the choice", async () => {
    const made = await plan(jobs.photo, undefined, { curves });
    const pictures = made.rows.map((_, k) => ({ file: Uint8Array.of(k, 7), widthMm: 5, heightMm: 7 }));
    const page = await planPage(made, undefined, { pictures });
    const items = [...page.matchAll(/<li( class="chosen")?><img src="data:image\/jpeg;base64,([^"]*)"/g)];
    expect(items.map(([, , data]) => [...Buffer.from(data, "base64")])).toEqual(
      made.rows.map((_, k) => [k, 7]),
    );
    expect(items.findIndex(([, chosen]) => chosen !== undefined)).toBe(made.recommended.row);
    expect(page.match(/class="chosen"/g)).toHaveLength(1);
  });
});

/** A command with a path that has no place to break it. */
const NEXT = `npx spotpitch prepare /home/workshop/${"uploads_of_this_week_".repeat(5)}.jpg --kind photo --width 60mm --no-compensate --material coated-steel --density 442 --spot 0.115mm`;

describe.skipIf(!hasBrowser())("in a browser, the page of a plan", () => {
  let browser: PageOpener;
  let html: string;
  beforeAll(async () => {
    browser = await startBrowser();
    const pictures: DetailPicture[] = [];
    const made = await plan(jobs.photo, undefined, {
      curves,
      onPicture(row, picture) {
        pictures[row] = picture;
      },
    });
    html = await planPage(made, NEXT, { pictures });
  });
  afterAll(() => browser?.close());

  it.each([
    ["light", 1280, false],
    ["dark", 390, true],
  ] as const)("fits, and says where a table goes on: %s, %i px wide", async (colorScheme, width, says) => {
    const { page, said } = await browser.open(html, { colorScheme, viewport: { width, height: 800 } });
    expect(said).toEqual([]);
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    const isCut = await page.evaluate(
      "(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth)(document.querySelector('.scrolls'))",
    );
    expect(isCut).toBe(says);
    expect(await page.getByText("scroll sideways").isVisible()).toBe(says);
    expect(await faultsOf(page, "grave")).toEqual([]);
    await page.context().close();
  });

  it.each([1280, 390])("breaks the command between its options only: %i px wide", async (width) => {
    const { page } = await browser.open(html, { viewport: { width, height: 800 } });
    const heights = await page.evaluate<number[]>(
      "[...document.querySelectorAll('code .part')].map((part) => part.getBoundingClientRect().height)",
    );
    // The command itself with its long path, then an option with its value on a line each.
    const [, ...options] = heights;
    expect(options).toHaveLength(6);
    for (const height of options) expect(height).toBeCloseTo(Math.min(...heights), 1);
    if (width === 390) expect(heights[0]).toBeGreaterThan(2 * options[0]);
    await page.context().close();
  });

  it.each(["strip", "shade"])("fits a telephone: to %s", async (kind) => {
    const other = await planPage(await plan(jobs[kind], undefined, { curves }), NEXT);
    const { page } = await browser.open(other, { viewport: { width: 390, height: 800 } });
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
    await page.context().close();
  });
});

it("shows a name as it is, whatever it holds", () => {
  const nasty = `<b>"a" & 'b'</b>`;
  expect(escapeHtml(nasty)).toBe("&lt;b&gt;&quot;a&quot; &amp; &#39;b&#39;&lt;/b&gt;");
  const page = htmlPage(nasty, tableHtml(nasty, [{ head: nasty }], [[nasty]]));
  expect(page).not.toContain("<b>");
});
