import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { exposeRows } from "../../../src/5-burn/exposure.js";
import { planExposure } from "../../../src/5-burn/exposure-plan.js";
import { escapeHtml } from "../../../src/6-report/pages/html-page.js";
import { materialPainter } from "../../../src/6-report/pictures/appearance.js";
import { warningRules } from "../../../src/6-report/words/warnings.js";
import { generalCautions } from "../../../src/core/material/cautions.js";
import { luminanceFactorAt } from "../../../src/core/material/response.js";
import { packBitmap, rowsOfBitmap } from "../../../src/core/packed-bits.js";
import { lightnessFromLuminance } from "../../../src/core/physics/lightness.js";
import { denseData } from "../../../src/core/plane.js";
import type { PreparedPiece, PrepareOptions } from "../../../src/index.js";
import { resolveOptions } from "../../../src/options/options.js";
import { roundExposure } from "../../../src/pipeline/photo/round-piece.js";
import { photographPath } from "../../pipeline/photograph.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, type OpenedPage, type PageOpener, startBrowser } from "../../support/browser.js";
import { prepare } from "../../support/prepare.js";
import { hasTool } from "../../support/tool.js";

const HOSTILE = `</script><img src=x onerror=alert(1)>"'&.jpg`;
const hostileMaterial = {
  name: `ash <b>"&'`,
  response: [
    [0, 0.6],
    [1, 0.1],
  ],
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "guessed </style><script>alert(2)</script>",
  hazards: ["Smoke <i>and</i> ash."],
};
const plain: PrepareOptions = {
  ...{ widthMm: 60, heightMm: 45, linesPerInch: 300, spotMm: 0.115, method: "floyd-steinberg" },
  material: hostileMaterial,
};
const small: PrepareOptions = { ...plain, widthMm: 24, heightMm: 18 };
/** Odd lines are not like even ones, pixels are no squares, and the bitmap is mirrored. */
const odd: PrepareOptions = {
  ...{ widthMm: 24, linesPerInch: 200, linesPerInchAlong: 400, spotMm: { alongMm: 0.08, acrossMm: 0.15 } },
  ...{ material: "slate", method: "floyd-steinberg", mirror: true },
  ...{ speedMmPerS: 500, firingLagUs: 200, lineShiftMm: 0.07 },
};

const cone: PrepareOptions = {
  ...{ aroundMm: { topMm: 8, bottomMm: 14 }, heightMm: 12, linesPerInch: 254, spotMm: 0.15 },
  ...{ material: "slate", method: "floyd-steinberg" },
};

let photo: Uint8Array;
let piece: PreparedPiece;
let html: string;
beforeAll(async () => {
  photo = readFileSync(photographPath("nagasaki-boats"));
  piece = await prepare(photo, plain, { fileName: HOSTILE });
  html = textOf(piece);
});

const CELLS = 8;

/** Mean grey of 8 × 8 cells of a picture file. */
async function cells(file: Buffer): Promise<number[]> {
  return [...(await sharp(file).greyscale().resize(CELLS, CELLS, { fit: "fill" }).raw().toBuffer())];
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const [meanA, meanB] = [a, b].map(
    (values) => values.reduce((sum, value) => sum + value, 0) / values.length,
  );
  let [ab, aa, bb] = [0, 0, 0];
  a.forEach((value, i) => {
    ab += (value - meanA) * (b[i] - meanB);
    aa += (value - meanA) ** 2;
    bb += (b[i] - meanB) ** 2;
  });
  return ab / Math.sqrt(aa * bb);
}

const textOf = ({ reportPage = new Uint8Array() }: PreparedPiece): string =>
  Buffer.from(reportPage).toString("utf8");

describe("the page of a report", () => {
  it("holds what it shows, and shows names as they are", () => {
    const markup = html.replace(/base64,[A-Za-z0-9+/=]+/g, "");
    // The addresses are the names of SVG itself.
    expect(markup.replaceAll(/http:\/\/www\.w3\.org\/(2000\/svg|1999\/xlink)/g, "")).not.toMatch(
      /https?:|\/\/\w+\.\w/,
    );
    expect(markup).not.toMatch(/<link|<iframe|url\((?!#)|@import/i);
    expect(markup.match(/<script/g)).toHaveLength(1);
    expect(markup.match(/<img /g)).toHaveLength(1);
    expect(markup).toContain(`<h1>${escapeHtml(HOSTILE)}</h1>`);
    for (const text of [hostileMaterial.name, hostileMaterial.source, ...hostileMaterial.hazards]) {
      expect(markup).toContain(escapeHtml(text));
      expect(markup).not.toContain(text);
    }
  });

  it("closes what it opens, and names its ids once", () => {
    const open: string[] = [];
    const markup = html.replace(/<script>.*<\/script>/s, "");
    for (const [, slash, tag, selfClosed] of markup.matchAll(/<(\/?)([a-z][a-z0-9]*)\b[^>]*?(\/?)>/gi)) {
      if (["meta", "br", "img", "input"].includes(tag) || selfClosed) continue;
      if (!slash) open.push(tag);
      else expect(open.pop()).toBe(tag);
    }
    expect(open).toEqual([]);
    const ids = [...markup.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("says each warning under its title, and every caution", () => {
    const { warnings, cautions } = piece.report;
    expect(warnings.length).toBeGreaterThan(0);
    for (const { code, message } of warnings) {
      expect(html).toContain(
        `<li><strong>${escapeHtml(warningRules[code].title)}.</strong> ${escapeHtml(message)}</li>`,
      );
    }
    for (const caution of cautions) expect(html).toContain(escapeHtml(caution));
  });

  it.each([
    ["plain", undefined],
    ["mirrored", odd],
  ])("shows photo and prediction alike and the right way round: %s", async (_, asked) => {
    const made = asked ? await prepare(photo, asked) : piece;
    const files = [...textOf(made).matchAll(/href="data:image\/jpeg;base64,([^"]+)"/g)].map(([, text]) =>
      Buffer.from(text, "base64"),
    );
    const { widthMm, heightMm } = made.report.job;
    const [wanted, predicted] = await Promise.all(files.map((file) => cells(file)));
    const cropped = sharp(photo).resize({
      width: 640,
      height: Math.round((640 * heightMm) / widthMm),
      fit: "cover",
    });
    const original = await cells(await cropped.png().toBuffer());
    expect(files).toHaveLength(2);
    // Both are in the same colours; dots that show have a darker mean code than their mean light.
    wanted.forEach((code, i) => {
      expect(Math.abs(code - predicted[i])).toBeLessThan(10);
    });
    expect(correlation(wanted, original)).toBeGreaterThan(0.9);
    const mirrored = original.map((_, i) => original[i - (i % CELLS) + CELLS - 1 - (i % CELLS)]);
    expect(correlation(wanted, mirrored)).toBeLessThan(correlation(wanted, original) - 0.02);
  });

  it("shows a drawing whose edges were placed, without tones that it has not", async () => {
    const logo = readFileSync(new URL("../../../sample-images/logo.svg", import.meta.url));
    const made = await prepare(logo, { kind: "solid", widthMm: 30, spotMm: 0.115, material: "coated-steel" });
    const text = textOf(made);
    expect(text).toContain("The drawing, and the predicted result");
    expect(text).toContain("<caption>Edges</caption>");
    expect(text).not.toMatch(/Tones in figures|Tone curve/);
    const files = [...text.matchAll(/href="data:image\/jpeg;base64,([^"]+)"/g)];
    const [wanted, predicted] = await Promise.all(
      files.map(([, file]) => cells(Buffer.from(file, "base64"))),
    );
    expect(Math.max(...wanted) - Math.min(...wanted)).toBeGreaterThan(40);
    wanted.forEach((code, i) => {
      expect(Math.abs(code - predicted[i])).toBeLessThan(6);
    });
  });

  it("is not drawn with the bitmap alone", async () => {
    const { reportPage } = await prepare(photo, { ...small, bitmapOnly: true });
    expect(reportPage).toBeUndefined();
  });
});

describe.skipIf(!hasBrowser())("in a browser, the page of a report", () => {
  let browser: PageOpener;
  let opened: OpenedPage;
  let page: Page;
  beforeAll(async () => {
    browser = await startBrowser();
    opened = await browser.open(html, { viewport: { width: 1280, height: 900 } });
    page = opened.page;
    await loupeSays(page);
  });
  afterAll(() => browser?.close());

  it.each([
    ["light", 1280],
    ["dark", 390],
  ] as const)("loads nothing, says nothing, and fits: %s, %i px wide", async (colorScheme, width) => {
    const { page: other, said } = await browser.open(html, { colorScheme, viewport: { width, height: 800 } });
    await loupeSays(other);
    expect(said).toEqual([]);
    expect(await other.evaluate(WHAT_RUNS)).toEqual({ scripts: 1, images: 1, handlers: [] });
    const wide = await other.evaluate("document.documentElement.scrollWidth");
    expect(wide).toBeLessThanOrEqual(width);
    expect(await faultsOf(other, "grave")).toEqual([]);
    await other.context().close();
  });

  it("shows the piece at its true size", async () => {
    const { job } = piece.report;
    const size = await sizeMm(page, "svg.life");
    // Layout counts in 64ths of a pixel.
    expect(size[0]).toBeCloseTo(job.widthMm, 1);
    expect(size[1]).toBeCloseTo(job.heightMm, 1);
    expect((await sizeMm(page, ".bar"))[0]).toBeCloseTo(50, 1);
  });

  it("has a slider between photo and prediction, by mouse and by keys", async () => {
    const clip = () =>
      page.evaluate<string>("getComputedStyle(document.querySelector('.panel.predicted svg')).clipPath");
    const slider = page.locator(".stage input");
    await slider.scrollIntoViewIfNeeded();
    const box = await slider.boundingBox();
    if (!box) throw new Error("no slider");
    await page.mouse.move(box.x + box.width / 2, box.y + 40);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 4, box.y + 60, { steps: 4 });
    await page.mouse.up();
    const [, left] = /inset\(0px 0px 0px ([\d.]+)%\)/.exec(await clip()) ?? [];
    expect(Number(left)).toBeCloseTo(25, 0);
    await slider.focus();
    await page.keyboard.press("End");
    expect(await clip()).toContain("100%");
    await page.keyboard.press("ArrowLeft");
    expect(await clip()).toContain("99.5%");
    expect(await slider.getAttribute("aria-valuetext")).toMatch(/100 % as wanted/);
  });

  it("has a loupe that mouse and keys move", async () => {
    const ring = page.locator(".ring");
    const field = page.locator(".field");
    await field.scrollIntoViewIfNeeded();
    const box = await field.boundingBox();
    if (!box) throw new Error("no loupe");
    await page.mouse.move(box.x + 0.3 * box.width, box.y + 0.3 * box.height);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 4, { steps: 3 });
    await page.mouse.up();
    // To a pixel of the screen.
    expect((await placeMm(page))[0]).toBeCloseTo(30, 0.5);
    expect((await placeMm(page))[1]).toBeCloseTo(11.25, 0.5);
    // The view is 64 pixels of 25.4/300 mm wide; an arrow goes a quarter of it.
    await ring.focus();
    await page.keyboard.press("ArrowRight");
    expect((await placeMm(page))[0]).toBeCloseTo(30 + (16 * 25.4) / 300, 0.5);
    await page.keyboard.press("Shift+ArrowDown");
    await page.keyboard.press("Shift+ArrowDown");
    expect((await placeMm(page))[1]).toBeCloseTo(11.25 + (2 * 25.4) / 300, 0.5);
    for (let k = 0; k < 40; k++) await page.keyboard.press("ArrowLeft");
    // At the edge half of the view is left.
    expect((await placeMm(page))[0]).toBeCloseTo((32 * 25.4) / 300, 0.5);
  });

  it.each([
    ["on a cone, whose seam is no edge and whose rows differ in dose", cone, 40],
    [
      "mirrored, with odd lines of their own, and a lag over a hundred pixels",
      { ...odd, firingLagUs: 1000 },
      48,
    ],
    ["with bursts that begin late", { ...odd, firingLossUs: 160 }, 40],
    [
      "with bursts that end late, in power levels",
      { ...odd, firingLossUs: -190, levels: 5, firingLagUs: 0 },
      40,
    ],
    [
      "with lines that do not add up",
      { ...small, material: { ...hostileMaterial, lineExponent: 1.5 }, firingLossUs: 100 },
      40,
    ],
  ])("burns under the loupe what the exposure model burns: %s", async (_, asked, view) => {
    const other = await prepare(photo, asked);
    const tab = (await browser.open(textOf(other))).page;
    await loupeSays(tab);
    await tab.locator(".loupe label input").fill(String(view));
    if (asked === cone) {
      // To the seam and the narrow end.
      await tab.locator(".ring").focus();
      for (let k = 0; k < 12; k++) await tab.keyboard.press("ArrowLeft");
      for (let k = 0; k < 12; k++) await tab.keyboard.press("ArrowUp");
    }
    const { colours: sent, columns, rows, lightness } = await tab.evaluate(READ_MARKS);
    const colours = Buffer.from(sent, "latin1");
    const [atX, atY] = await exactPlace(tab);
    const expected = burnedThere(other, asked, { atX, atY, columns, rows });
    expect(colours).toHaveLength(expected.colours.length);
    let worst = 0;
    colours.forEach((code, i) => {
      worst = Math.max(worst, Math.abs(code - expected.colours[i]));
    });
    // Tables of 1024 doses: a step of a colour or two.
    expect(worst).toBeLessThanOrEqual(2);
    expect(lightness).toBeCloseTo(expected.lightness, 0.9);
    await tab.context().close();
  });

  it("stands side by side where nothing may run", async () => {
    const { page: still, said } = await browser.open(html, { javaScriptEnabled: false });
    const [a, b] = await Promise.all(
      [".panel.wanted", ".panel.predicted"].map((panel) => still.locator(panel).boundingBox()),
    );
    expect(a && b && a.x + a.width <= b.x && a.y === b.y).toBe(true);
    expect(await still.locator(".stage input").isVisible()).toBe(false);
    expect(await still.locator("noscript").textContent()).toMatch(/needs scripts/);
    expect(said).toEqual([]);
    await still.context().close();
  });

  it("folds the cautions for every job on a screen, and shows them on paper", async () => {
    const caution = page.getByText(generalCautions[0]);
    const height = async (): Promise<number> => (await caution.boundingBox())?.height ?? 0;
    expect(await height()).toBe(0);
    await page.emulateMedia({ media: "print" });
    expect(await height()).toBeGreaterThan(5);
    await page.emulateMedia({ media: null });
  });

  it("prints photo and prediction side by side, and the piece at its true size", async () => {
    await page.emulateMedia({ media: "print" });
    const [a, b] = await Promise.all(
      [".panel.wanted", ".panel.predicted"].map((panel) => page.locator(panel).boundingBox()),
    );
    expect(a && b && a.x + a.width <= b.x && a.y === b.y).toBe(true);
    expect(await page.locator(".stage input").isVisible()).toBe(false);
    expect((await sizeMm(page, "svg.life"))[0]).toBeCloseTo(piece.report.job.widthMm, 1);
    await page.emulateMedia({ media: null });
  });

  describe.skipIf(!hasTool("pdfimages", ["-v"]))("on paper", () => {
    it.each([
      ["A4", 60, 45, [60, 45]],
      ["Letter", 200, 150, [150, 200]], // turned
      ["A4", 240, 230, [181, 212]], // its middle
    ] as const)("%s holds %i × %i mm at life size", async (format, widthMm, heightMm, sheet) => {
      const other = await prepare(photo, { ...plain, widthMm, heightMm, linesPerInch: 50, spotMm: 0.5 });
      const { page: tab } = await browser.open(textOf(other));
      await loupeSays(tab);
      await tab.emulateMedia({ media: "print" });
      const room = await sizeMm(tab, "svg.life:visible");
      expect([Math.round(room[0]), Math.round(room[1])]).toEqual(sheet);
      const section = await sizeMm(tab, "section:has(svg.life)");
      expect(section[1]).toBeLessThan(251); // Letter less two margins of 14 mm
      // Poppler lists pictures as they are before they are turned or cut.
      const images = imagesIn(await tab.pdf({ format }));
      // pdfimages tells whole pixels per inch.
      const found = images.some(
        (each) => Math.abs(each.wide / widthMm - 1) < 0.01 && Math.abs(each.high / heightMm - 1) < 0.01,
      );
      expect(found, JSON.stringify(images)).toBe(true);
      await tab.context().close();
    });
  });

  const WHAT_RUNS = `({
    scripts: document.scripts.length,
    images: document.images.length,
    handlers: [...document.querySelectorAll("*")].flatMap((e) => e.getAttributeNames()).filter((n) => /^on/.test(n)),
  })`;

  /** What the loupe's canvas shows, and the mean L* it tells. */
  const READ_MARKS = `(() => {
    const canvas = document.querySelector("canvas.marks");
    const bits = document.querySelector("canvas.bits");
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    const lightness = Number(/L\\* ([\\d.]+)/.exec(document.querySelector("output").textContent)[1]);
    // One character for each byte: a list of a million numbers takes seconds on its way.
    let colours = "";
    data.forEach((byte, i) => { if (i % 4 !== 3) colours += String.fromCharCode(byte); });
    return { colours, columns: bits.width, rows: bits.height, lightness };
  })()` as unknown as () => { colours: string; columns: number; rows: number; lightness: number };

  /** Left upper corner of the view as seen, as shares of the piece, from the frame on the picture. */
  async function exactPlace(tab: Page): Promise<number[]> {
    const style = await tab.evaluate<string>("document.querySelector('.frame').style.cssText");
    return ["left", "top"].map((side) => Number(new RegExp(`${side}: ([\\d.]+)%`).exec(style)?.[1]) / 100);
  }
});

/** Wait until the loupe has looked. */
async function loupeSays(page: Page): Promise<string> {
  // A function to wait for would be evaluated again and again, which the page forbids.
  await page.locator("output", { hasText: /\S/ }).waitFor({ state: "attached" });
  return (await page.locator("output").textContent()) ?? "";
}

async function placeMm(page: Page): Promise<number[]> {
  const [, x, y] = /^([\d.]+) mm from the left, ([\d.]+) mm from the top/.exec(await loupeSays(page)) ?? [];
  return [Number(x), Number(y)];
}

async function sizeMm(page: Page, selector: string): Promise<number[]> {
  const box = await page.locator(selector).first().boundingBox();
  return [box?.width ?? 0, box?.height ?? 0].map((px) => (px * 25.4) / 96);
}

/** The pictures of a PDF, as large as they are printed, in mm; as poppler reads it. */
function imagesIn(pdf: Buffer): { wide: number; high: number }[] {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-pdf-"));
  try {
    const file = join(folder, "page.pdf");
    writeFileSync(file, pdf);
    const lines = execFileSync("pdfimages", ["-list", file], { encoding: "utf8" })
      .trim()
      .split("\n")
      .slice(2);
    return lines.map((line) => {
      const words = line.trim().split(/\s+/);
      const [width, height, xPpi, yPpi] = [words[3], words[4], words[12], words[13]].map(Number);
      return { wide: (25.4 * width) / xPpi, high: (25.4 * height) / yPpi };
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

interface View {
  /** Left upper corner as seen, as shares of the piece. */
  readonly atX: number;
  readonly atY: number;
  readonly columns: number;
  readonly rows: number;
}

/** Colours of every sample in a view, as seen, and its mean lightness, from the whole bitmap's exposure. */
function burnedThere({ bitmap, report }: PreparedPiece, asked: PrepareOptions, view: View) {
  const options = resolveOptions(asked);
  const { columns, rows, mirror } = report.job;
  const { curve, bareColor, markedColor } = options.material;
  const plan = planExposure(options.pitch, options.spot, options.motion, options);
  const packed = packBitmap(denseData(bitmap), columns, rows, report.job.levels);
  const paint = materialPainter(bareColor, markedColor, curve.bare, curve.saturated);
  const { closed, doseOfRow } = roundExposure({
    ...(options.wrap && { circles: { ...options.wrap, ring: true } }),
    rows,
  });
  const seenLeft = Math.round(view.atX * columns);
  const left = mirror ? columns - seenLeft - view.columns : seenLeft;
  const top = Math.round(view.atY * rows);
  const wide = view.columns * plan.samplesAlong;
  const colours: number[] = [];
  const rgb = new Uint8Array(3);
  let sum = 0;
  exposeRows(
    { plan },
    rowsOfBitmap(packed, closed),
    { firstRow: top, endRow: top + view.rows },
    (dose, y) => {
      const stride = dose.length / plan.samplesAlong;
      for (let i = 0; i < wide; i++) {
        const at = mirror ? wide - 1 - i : i;
        const [x, s] = [Math.floor(at / plan.samplesAlong), at % plan.samplesAlong];
        const factor = luminanceFactorAt(curve, doseOfRow(y) * dose[s * stride + left + x]);
        sum += factor;
        paint(factor, rgb, 0);
        colours.push(...rgb);
      }
    },
  );
  return { colours, lightness: lightnessFromLuminance(sum / (colours.length / 3)) };
}
