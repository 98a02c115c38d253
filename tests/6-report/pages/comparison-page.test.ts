import { readFileSync } from "node:fs";
import type { Locator, Page } from "playwright-core";
import { PNG } from "pngjs";
import sharp from "sharp";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { escapeHtml } from "../../../src/6-report/pages/html-page.js";
import { denseData } from "../../../src/core/plane.js";
import {
  type CandidatePictures,
  type CompareOptions,
  type Comparison,
  comparisonPage,
} from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, type OpenedPage, type PageOpener, startBrowser } from "../../support/browser.js";
import { compare, prepare } from "../../support/prepare.js";

const photo = readFileSync(photographPath("nagasaki-boats"));

const HOSTILE = `</script><img src=x onerror=alert(1)>"'&.jpg`;
const hostileMaterial = {
  name: `ash <b>"&' of an old quay whose planks have seen a hundred winters`,
  response: [
    [0, 0.6],
    [1, 0.1],
  ],
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "guessed",
};
const asked: CompareOptions = {
  ...{ widthMm: 60, spotMm: 0.115, material: hostileMaterial },
  ...{ method: ["floyd-steinberg", "clustered-dot"], linesPerInch: [254, 300] },
};

/** A comparison with its pictures. */
async function compared(options: CompareOptions): Promise<readonly [Comparison, CandidatePictures[]]> {
  const pictures: CandidatePictures[] = [];
  const made = await compare(photo, options, {
    ...{ fileName: HOSTILE, pictures: true },
    onCandidate({ index, pictures: seen }) {
      if (seen) pictures[index] = seen;
    },
  });
  return [made, pictures];
}

let made: Comparison;
let pictures: CandidatePictures[];
let html: string;
beforeAll(async () => {
  [made, pictures] = await compared(asked);
  html = comparisonPage(made, pictures);
});

const greys = async (file: Uint8Array, columns: number, rows: number): Promise<number[]> => [
  ...(await sharp(file).greyscale().resize(columns, rows, { fit: "fill" }).raw().toBuffer()),
];

describe("pictures of a candidate", () => {
  it("show the pixels of the prepared bitmap close up, mirrored", async () => {
    const mirror = true;
    const one = { widthMm: 40, spotMm: 0.115, material: "maple", method: "floyd-steinberg", mirror };
    const [, [seen]] = await compared({ ...one, linesPerInch: 300 });
    const { bitmap, report } = await prepare(photo, { ...one, linesPerInch: 300, kind: "photo" });
    const { columns, rows } = report.job;
    const { part, ...closeUp } = seen.closeUp;
    expect([closeUp.columns, closeUp.rows]).toEqual([448, Math.min(448, rows)]);
    const dots = PNG.sync.read(Buffer.from(closeUp.dots));
    const [left, top] = [Math.round(part.left * columns), Math.round(part.top * rows)];
    const bits = denseData(bitmap);
    let wrong = 0;
    for (let y = 0; y < closeUp.rows; y++) {
      for (let x = 0; x < closeUp.columns; x++) {
        const column = mirror ? columns - 1 - left - x : left + x;
        const burns = bits[(top + y) * columns + column] === 1;
        if ((dots.data[4 * (y * closeUp.columns + x)] === 0) !== burns) wrong++;
      }
    }
    expect(wrong).toBe(0);
  });

  it("show the same place in the whole piece and close up", async () => {
    for (const { whole, closeUp } of pictures) {
      const { left, top, width, height } = closeUp.part;
      const { width: columns = 0, height: rows = 0 } = await sharp(whole).metadata();
      const area = {
        left: Math.round(left * columns),
        top: Math.round(top * rows),
        width: Math.round(width * columns),
        height: Math.round(height * rows),
      };
      const there = await sharp(whole).extract(area).png().toBuffer();
      const [small, near] = await Promise.all([greys(there, 8, 8), greys(closeUp.marks, 8, 8)]);
      // Averages of codes instead of light differ by a dozen codes if one of the two still shows dots.
      small.forEach((code, i) => {
        expect(Math.abs(code - near[i])).toBeLessThan(20);
      });
      expect(Math.max(...small) - Math.min(...small)).toBeGreaterThan(25);
    }
  });

  it("lie at the same place in all, to a pixel of each", () => {
    const [first, ...others] = pictures.map(({ closeUp }) => closeUp.part);
    for (const other of others)
      for (const side of ["left", "top", "width", "height"] as const)
        expect(Math.abs(other[side] - first[side])).toBeLessThan(1 / 400);
  });
});

describe("the page of a comparison", () => {
  it("holds what it shows, and shows names as they are", () => {
    const markup = html.replace(/base64,[A-Za-z0-9+/=]+/g, "");
    expect(markup).not.toMatch(/https?:|\/\/\w+\.\w|<link|<iframe|url\(|@import/i);
    expect(markup.match(/<script/g)).toHaveLength(1);
    for (const text of [HOSTILE, hostileMaterial.name]) {
      expect(markup).toContain(escapeHtml(text));
      expect(markup).not.toContain(text);
    }
  });

  it("says first what to take and why, and below why each has won", () => {
    const says = html.indexOf(escapeHtml(made.recommended.sentence));
    expect(says).toBeGreaterThan(0);
    for (const reason of Object.values(made.reasons))
      expect(html.indexOf(escapeHtml(reason))).toBeGreaterThan(says);
  });
});

describe.skipIf(!hasBrowser())("in a browser, the page of a comparison", () => {
  let browser: PageOpener;
  let opened: OpenedPage;
  let page: Page;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser?.close());
  beforeEach(async () => {
    opened = await browser.open(html, { viewport: { width: 1280, height: 900 } });
    page = opened.page;
  });
  afterEach(async () => {
    expect(opened.said).toEqual([]);
    await page.context().close();
  });

  it.each([
    ["light", 1280],
    ["dark", 390],
  ] as const)("loads nothing, says nothing, and fits: %s, %i px wide", async (colorScheme, width) => {
    const { page: other, said } = await browser.open(html, { colorScheme, viewport: { width, height: 800 } });
    expect(said).toEqual([]);
    expect(await other.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    expect(await faultsOf(other)).toEqual([]);
    await other.context().close();
  });

  it("sorts cards, bars and table by a figure, either way round, and back", async () => {
    const switched = made.candidates.map(({ switching }) => switching.transitionsPerLine);
    const sorted = switched.map((_, k) => k).sort((a, b) => switched[a] - switched[b]);
    expect(sorted).not.toEqual([0, 1, 2, 3]);
    await page.locator(".order").selectOption({ label: "switched per line" });
    expect(await orderOf(page)).toEqual(sorted);
    const rows = await page.locator(".folded > .scrolls tbody tr td:first-child").allTextContents();
    expect(rows.map((text) => Number.parseInt(text, 10) - 1)).toEqual(sorted);
    const bars = await page.locator(".bars").first().locator(".bar").all();
    const titles = await Promise.all(bars.map((bar) => bar.getAttribute("title")));
    expect(titles.map((text) => Number.parseInt(text ?? "", 10) - 1)).toEqual(sorted);
    expect(await page.locator("#view-says").textContent()).toMatch(
      /^Sorted by switched per line, lowest first/,
    );
    await page.locator(".way").click();
    expect(await orderOf(page)).toEqual([...sorted].reverse());
    await page.locator(".order").selectOption("");
    expect(await orderOf(page)).toEqual([0, 1, 2, 3]);
    await page.getByText("Figure by figure").click();
    await page.getByRole("button", { name: "switched per line" }).focus();
    await page.keyboard.press("Enter");
    expect(await orderOf(page)).toEqual(sorted);
  });

  it("begins with what to take and a winner on the slider, and a click, a key or a list brings others", async () => {
    const [taken, other] = firstPair();
    const others = [0, 1, 2, 3].filter((k) => k !== taken && k !== other);
    expect(await onSlider(page)).toEqual([taken, other]);
    await card(page, others[0]).click();
    expect(await onSlider(page)).toEqual([taken, others[0]]);
    await card(page, others[1]).focus();
    await page.keyboard.press("Enter");
    expect(await onSlider(page)).toEqual([others[1], others[0]]);
    expect(await page.locator(".card .view[aria-pressed=true]").count()).toBe(2);
    await page.locator(".pick.left select").selectOption(String(other));
    expect(await onSlider(page)).toEqual([other, others[0]]);
    const same = await page.evaluate(
      `document.querySelector(".layer.left .whole").src === document.querySelector("#candidate-${other + 1} .whole").src`,
    );
    expect(same).toBe(true);
  });

  it("has a border between the two that the mouse and keys move", async () => {
    const stage = page.locator(".stage");
    await stage.scrollIntoViewIfNeeded();
    const box = await boxOf(stage);
    await page.mouse.move(box.x + box.width / 2, box.y + 50);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 4, box.y + 60, { steps: 4 });
    await page.mouse.up();
    const clip = () =>
      page.evaluate<string>("getComputedStyle(document.querySelector('.layer.right')).clipPath");
    expect(Number(/([\d.]+)%\)/.exec(await clip())?.[1])).toBeCloseTo(25, 0);
    await page.locator(".slide").focus();
    await page.keyboard.press("End");
    expect(await clip()).toContain("100%");
    expect((await viewOf(page)).zoom).toBe(1);
  });

  it("zooms all pictures with the wheel at the pointer, and moves them by dragging", async () => {
    const stage = page.locator(".stage");
    await stage.scrollIntoViewIfNeeded();
    const box = await boxOf(stage);
    const at = { x: box.x + 0.2 * box.width, y: box.y + 0.3 * box.height };
    // Not clicked yet: the page scrolls.
    await page.mouse.move(at.x, at.y);
    await page.mouse.wheel(0, -10);
    expect((await viewOf(page)).zoom).toBe(1);
    await stage.focus();
    await stage.scrollIntoViewIfNeeded();
    const now = await boxOf(stage);
    await page.mouse.move(now.x + 0.2 * now.width, now.y + 0.3 * now.height);
    await page.mouse.wheel(0, -150);
    await page.locator(".comparison.zoomed").waitFor({ state: "attached" });
    const zoomed = await viewOf(page);
    expect(zoomed.zoom).toBeCloseTo(Math.exp(150 / 500), 3);
    // What was under the pointer still is: 0.2 of the piece's width from its left.
    expect(zoomed.left + 0.2 / zoomed.zoom).toBeCloseTo(0.2, 3);
    await page.mouse.down();
    await page.mouse.move(now.x + 0.15 * now.width, now.y + 0.3 * now.height, { steps: 3 });
    await page.mouse.up();
    expect((await viewOf(page)).left).toBeCloseTo(zoomed.left + 0.05 / zoomed.zoom, 2);
    // The same place in all.
    const planes = await page.evaluate<number[][]>(`[...document.querySelectorAll(".view")].map((view) => {
      const [outer, inner] = [view, view.querySelector(".plane")].map((each) => each.getBoundingClientRect());
      return [(outer.left - inner.left) / inner.width, (outer.top - inner.top) / inner.height, inner.width / outer.width];
    })`);
    expect(planes).toHaveLength(5);
    for (const plane of planes)
      plane.forEach((value, i) => {
        expect(Math.abs(value - planes[0][i])).toBeLessThan(0.005);
      });
  });

  it("zooms and moves by keys down to the dots, always within the part that is known", async () => {
    await card(page, 0).focus();
    for (let k = 0; k < 30; k++) await page.keyboard.press("+");
    // From the middle of 708 pixels, by a tenth of 24 at a time.
    for (let k = 0; k < 160; k++) await page.keyboard.press("ArrowRight");
    const { zoom, left } = await viewOf(page);
    const { part } = pictures[0].closeUp;
    expect(left + 1 / zoom).toBeCloseTo(part.left + part.width, 5);
    // 24 pixels of the finest bitmap fill a view.
    expect((pictures[2].closeUp.columns / pictures[2].closeUp.part.width / zoom).toFixed(1)).toBe("24.0");
    const seen = () =>
      Promise.all([".marks", ".dots"].map((name) => styleOf(page, `#candidate-1 ${name}`, "visibility")));
    expect(await seen()).toEqual(["visible", "hidden"]);
    await page.locator(".kind").selectOption("dots");
    expect(await seen()).toEqual(["hidden", "visible"]);
    await card(page, 0).focus();
    await page.keyboard.press("0");
    expect((await viewOf(page)).zoom).toBe(1);
    await page.getByRole("button", { name: "Dots" }).click();
    expect((await viewOf(page)).zoom).toBeGreaterThan(5);
  });

  it("shows through the view what lies there in the close picture, pixel by pixel", async () => {
    await page.locator(".kind").selectOption("dots");
    await page.evaluate("Promise.all([...document.images].map((image) => image.decode()))");
    const { zoom, left, top } = await viewOf(page);
    const { closeUp } = pictures[0];
    const shot = PNG.sync.read(await page.locator("#candidate-1 .view").screenshot());
    const dots = PNG.sync.read(Buffer.from(closeUp.dots));
    const [seen, expected]: number[][] = [[], []];
    for (let y = 40; y < shot.height - 10; y += 7) {
      for (let x = 10; x < shot.width - 10; x += 7) {
        const u =
          ((left + (x + 0.5) / shot.width / zoom - closeUp.part.left) / closeUp.part.width) * dots.width;
        const v =
          ((top + (y + 0.5) / shot.height / zoom - closeUp.part.top) / closeUp.part.height) * dots.height;
        // Near the side of a pixel rounding decides.
        if ([u, v].some((value) => Math.abs((value % 1) - 0.5) > 0.3)) continue;
        seen.push(shot.data[4 * (y * shot.width + x)] < 128 ? 1 : 0);
        expected.push(dots.data[4 * (Math.floor(v) * dots.width + Math.floor(u))] < 128 ? 1 : 0);
      }
    }
    expect(seen.length).toBeGreaterThan(100);
    expect(seen).toEqual(expected);
    expect(new Set(seen).size).toBe(2);
  });

  it("gives a piece like a ribbon a window to look at its dots through, on slider and cards alike", async () => {
    const ribbon = { widthMm: 60, heightMm: 5, linesPerInch: 254, spotMm: 0.115, material: "maple" };
    const text = comparisonPage(...(await compared({ ...ribbon, method: ["stucki", "bayer-4"] })));
    const { page: tab, said } = await browser.open(text, { viewport: { width: 1280, height: 900 } });
    const boxes = (name: string) =>
      Promise.all([".stage", "#candidate-1"].map((view) => boxOf(tab.locator(`${view} ${name}`).first())));
    const stage = await boxOf(tab.locator(".stage"));
    expect(stage.width / stage.height).toBeCloseTo(2.5, 1);
    for (const [plane, view] of [
      [(await boxes(".plane"))[0], stage],
      [(await boxes(".plane"))[1], await boxOf(tab.locator("#candidate-1 .view"))],
    ]) {
      // The whole ribbon, in the middle.
      expect(plane.width / view.width).toBeCloseTo(1, 2);
      expect(plane.width / plane.height).toBeCloseTo(12, 0);
      expect(plane.y + plane.height / 2 - view.y - view.height / 2).toBeCloseTo(0, 0);
    }
    await tab.locator("[data-zoom=dots]").click();
    const [marks] = await boxes(".marks");
    expect(marks.x).toBeLessThanOrEqual(stage.x + 1);
    expect(marks.y).toBeLessThanOrEqual(stage.y + 1);
    expect(marks.x + marks.width).toBeGreaterThanOrEqual(stage.x + stage.width - 1);
    expect(marks.y + marks.height).toBeGreaterThanOrEqual(stage.y + stage.height - 1);
    expect(said).toEqual([]);
    await tab.context().close();
  });

  it("zooms by two fingers, and leaves one to scroll the page", async () => {
    const other = await browser.open(html, {
      ...{ viewport: { width: 390, height: 800 }, hasTouch: true, isMobile: true },
    });
    const tab = other.page;
    const view = tab.locator("#candidate-1 .view");
    await view.scrollIntoViewIfNeeded();
    const box = await boxOf(view);
    const touch = await tab.context().newCDPSession(tab);
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const fingers = (apart: number) => [
      { x: middle.x - apart / 2, y: middle.y, id: 1 },
      { x: middle.x + apart / 2, y: middle.y, id: 2 },
    ];
    await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: fingers(60) });
    for (const apart of [80, 100, 120])
      await touch.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: fingers(apart) });
    await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    expect((await viewOf(tab)).zoom).toBeCloseTo(2, 1);
    // It was no tap.
    expect(await onSlider(tab)).toEqual(firstPair());
    expect(await styleOf(tab, "#candidate-1 .view", "touchAction")).toBe("pan-y");
    const free = [0, 1, 2, 3].find((k) => !firstPair().includes(k)) ?? 0;
    await card(tab, free).tap();
    expect(await onSlider(tab)).toContain(free);
    expect(other.said).toEqual([]);
    await tab.context().close();
  });

  it("hides no part of a picture with what it says about it", async () => {
    for (const k of made.candidates.keys()) {
      const picture = await boxOf(card(page, k));
      for (const said of await page.locator(`#candidate-${k + 1} .badges > *:visible`).all())
        expect((await boxOf(said)).y).toBeGreaterThanOrEqual(picture.y + picture.height);
    }
    expect(await page.locator(".badges .win:visible").count()).toBeGreaterThan(0);
    expect(await page.locator(".win", { hasText: "take this" }).count()).toBe(1);
  });

  it("folds what is not needed for the choice, and prints it", async () => {
    const reason = page.getByText(made.reasons.nominal).first();
    const height = async (): Promise<number> => (await reason.boundingBox())?.height ?? 0;
    expect(await height()).toBe(0);
    await page.emulateMedia({ media: "print" });
    expect(await height()).toBeGreaterThan(5);
    await page.emulateMedia({ media: null });
    await page.getByText("The best by each measure").click();
    expect(await height()).toBeGreaterThan(5);
  });

  it("shows every candidate and figure where nothing may run, and on paper", async () => {
    const { page: still, said } = await browser.open(html, { javaScriptEnabled: false });
    expect(await still.locator(".tools").isVisible()).toBe(false);
    expect(await still.locator(".card .whole").first().isVisible()).toBe(true);
    expect(said).toEqual([]);
    await still.context().close();
    expect(await styleOf(page, ".tools", "position")).toBe("sticky");
    await page.emulateMedia({ media: "print" });
    for (const control of [".tools", ".picks", ".slide"])
      expect(await page.locator(control).isVisible(), control).toBe(false);
    const [first, second] = await Promise.all([0, 1].map((k) => boxOf(card(page, k))));
    expect(first.y === second.y && first.x + first.width <= second.x).toBe(true);
    await page.emulateMedia({ media: null });
  });
});

/** What to take, and beside it the robust winner or, if that is the same, the nominal one. */
const firstPair = (): number[] => {
  const { winners, recommended } = made;
  const [taken] = recommended.candidates;
  return [taken, winners.robust === taken ? winners.nominal : winners.robust];
};

const card = (page: Page, k: number): Locator => page.locator(`#candidate-${k + 1} .view`);

async function boxOf(locator: Locator) {
  const box = await locator.boundingBox();
  if (!box) throw new Error("not shown");
  return box;
}

const styleOf = (page: Page, selector: string, property: string): Promise<string> =>
  page.evaluate(`getComputedStyle(document.querySelector("${selector}")).${property}`);

const orderOf = async (page: Page): Promise<number[]> =>
  (await page.locator(".card h3").allTextContents()).map((text) => Number.parseInt(text, 10) - 1);

const onSlider = async (page: Page): Promise<number[]> =>
  (await page.locator(".layer .label").allTextContents()).map((text) => Number.parseInt(text, 10) - 1);

/** The view that all pictures share: magnification, and its left upper corner in shares of the piece. */
async function viewOf(page: Page): Promise<{ zoom: number; left: number; top: number }> {
  const [zoom, left, top] = await page.evaluate<number[]>(
    "['--z', '--x', '--y'].map((name) => Number(document.querySelector('.comparison').style.getPropertyValue(name)))",
  );
  return { zoom, left, top };
}
