import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deskPage } from "../../../src/batch/desk/desk-page.js";
import { duplicatesOf } from "../../../src/batch/desk/duplicates.js";
import { type PiecePower, preparedEntry, refusedEntry } from "../../../src/batch/entry.js";
import { batchCsv, verdictOf } from "../../../src/batch/lists.js";
import { openDeskServer } from "../../../src/cli/desk/desk-server.js";
import { faultsOf } from "../../support/axe.js";
import { hasBrowser, launchBrowser } from "../../support/browser.js";
import { figures, madeDesk } from "./made-desk.js";

describe("deskPage", () => {
  const name = `<img src=x onerror=alert(1)></noscript></script>"'&\n\u202egpj.jpg`;
  const page = deskPage([{ entry: refusedEntry(name, "INPUT_DAMAGED", `"${name}" is damaged.`) }]);

  it("shows hostile names as text, control characters as marks", () => {
    expect(page).toContain(
      "&lt;img src=x onerror=alert(1)&gt;&lt;/noscript&gt;&lt;/script&gt;&quot;&#39;&amp;��gpj.jpg",
    );
    expect(page).not.toMatch(/<img src=x|\u202e/);
    // One end of each: the page's own.
    expect(page.match(/<\/noscript>/g)).toHaveLength(1);
    expect(page.match(/<\/script>/g)).toHaveLength(2);
  });
  it("runs its own script alone, and loads nothing from elsewhere", () => {
    expect(page).not.toMatch(/<link|https?:\/\/|@import|\burl\(/);
    expect(page).toContain("default-src 'none'");
    expect(page).toMatch(/script-src 'sha256-[^']+'"/);
  });
});

describe("the power of each pass", () => {
  const entryWith = (power?: PiecePower) =>
    preparedEntry("boat.jpg", { findings: [], figures: { ...figures, ...(power && { power }) } }, []);
  const pageWith = (power?: PiecePower) => deskPage([{ entry: entryWith(power) }]);

  it("and its speed are on the page", () => {
    const power = { percent: 20, passes: 2, speedMmPerS: 150 };
    expect(pageWith(power)).toContain("power 20 %, 2 passes at 150 mm/s");
    expect(pageWith({ ...power, isSpeedAssumed: true })).toContain("at the speed of your full-tone setting");
    expect(pageWith()).not.toContain("power 20");
  });

  it("is in the list for a spreadsheet", () => {
    const entry = entryWith({ percent: 20.04, passes: 2, speedMmPerS: 150 });
    const [head, row] = batchCsv([verdictOf({ entry }, undefined)])
      .split("\n")
      .map((line) => line.split(","));
    expect([row[head.indexOf("power percent")], row[head.indexOf("passes")]]).toEqual(["20.0", "2"]);
  });
});

it("duplicates have the same content; names do not count, and no content is none", () => {
  const entry = (file: string, contentSha256?: string) => ({
    ...refusedEntry(file, "INPUT_DAMAGED", ""),
    ...(contentSha256 && { contentSha256 }),
  });
  const uploads = [entry("a.jpg", "1"), entry("b/a.jpg", "2"), entry("c.png", "1"), entry("d"), entry("e")];
  expect([...duplicatesOf(uploads)]).toEqual([
    ["a.jpg", ["c.png"]],
    ["c.png", ["a.jpg"]],
  ]);
  const pieces = ["small", "large"].map((piece) => ({
    ...entry(`a.jpg [${piece}]`, "1"),
    upload: "a.jpg",
    piece,
  }));
  expect([...duplicatesOf(pieces)]).toEqual([]);
  expect(duplicatesOf([...pieces, entry("c.png", "1")]).get("c.png")).toEqual([
    "a.jpg [small]",
    "a.jpg [large]",
  ]);
});

const COUNT = 300;

describe.skipIf(!hasBrowser())("a desk of 300 uploads in a browser", () => {
  let browser: Browser;
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-desk-"));
  let address: string;
  const said: string[] = [];
  beforeAll(async () => {
    address = pathToFileURL(await madeDesk(folder, COUNT)).href;
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const openAt = async (url: string, options: BrowserContextOptions = {}): Promise<Page> => {
    const page = await (await browser.newContext(options)).newPage();
    page.on("console", (message) => said.push(message.text()));
    page.on("pageerror", (error) => said.push(error.message));
    page.on("request", (request) => {
      if (!request.url().startsWith(url.replace(/[^/]*$/, ""))) said.push(`request: ${request.url()}`);
    });
    await page.goto(url);
    return page;
  };
  const open = (options?: BrowserContextOptions) => openAt(address, options);
  /** What a page sends to be kept, and what lets it through. */
  const slowDecisions = async (page: Page): Promise<readonly [string[], () => void]> => {
    const asked: string[] = [];
    let goOn = (): void => {};
    const free = new Promise<void>((resolve) => {
      goOn = resolve;
    });
    await page.route("**/decisions", async (route) => {
      asked.push(route.request().postData() ?? "");
      await free;
      await route.continue();
    });
    return [asked, goOn];
  };
  const shown = (page: Page) => page.locator(".shown").textContent();
  const nameOf = (page: Page) => page.locator("#pane-name").textContent();

  it("finds by words, grade and decision, sorts, and sums the machine time", async () => {
    const page = await open({ viewport: { width: 1200, height: 800 } });
    // 60 + 37 i mod 1800 s for all i that are not 3 mod 4: 209,925 s in all, by a sum in Python.
    expect(await shown(page)).toBe("Shown 300 · 58 h 19 min");
    expect(await page.locator(".uploads > li").count()).toBeLessThan(100);
    await page.locator("[name=search]").fill("QUAY-12 ");
    // 12 and 120 to 129.
    expect(await shown(page)).toMatch(/^Shown 11 ·/);
    await page.locator("[name=search]").fill("quay-12 blurred");
    expect(await page.locator(".uploads .name").allTextContents()).toEqual(
      [121, 122, 125, 126, 129].map((k) => `quay-${k}.jpg`),
    );
    await page.locator("[name=search]").fill("");
    await page.locator("label[for=group-ask]").click();
    expect(await shown(page)).toMatch(/^Shown 75 ·/);
    await page.locator("[name=sort]").selectOption("longest");
    // The longest of i = 2 mod 4: 1838 s for i = 194, by the same.
    expect(await page.locator(".uploads .name").first().textContent()).toBe("quay-194.jpg");
    await page.locator("label[for=group-all]").click();
    // The order numbers count down: 10 before 100, as numbers.
    await page.locator("[name=sort]").selectOption("order");
    expect((await page.locator(".uploads .name").allTextContents()).slice(0, 12)).toEqual(
      Array.from({ length: 12 }, (_, k) => `quay-${COUNT - 1 - k}.jpg`),
    );
    await page.locator("[name=search]").fill("no. 290");
    // One by its name, one by its order.
    expect(await page.locator(".uploads .name").allTextContents()).toEqual(["quay-290.jpg", "quay-10.jpg"]);
    await page.locator("[name=search]").fill("");
    await page.locator("[name=same]").check();
    expect(await shown(page)).toMatch(/^Shown 60 ·/);
    await page.locator(".pick-shown").click();
    expect(await page.locator(".picked").textContent()).toMatch(/^Selected 60 ·/);
    await page.context().close();
  });

  it("decides by keys, goes on to the next, and keeps it in the browser where the page is a file", async () => {
    const page = await open({ viewport: { width: 1200, height: 800 } });
    const other = await page.context().newPage();
    await other.goto(address);
    await page.keyboard.press("j");
    expect(await nameOf(page)).toBe("week 12/quay-0.jpg");
    await page.keyboard.press("a");
    await page.locator("#pane-name", { hasText: "quay-1." }).waitFor();
    await page.keyboard.press("b");
    await page.keyboard.type("The date is cut off");
    await page.keyboard.press("Enter");
    await page.locator("#pane-name", { hasText: "quay-2." }).waitFor();
    expect(await page.locator("label[for=verdict-approved] b").textContent()).toBe("1");
    // Two tabs do not lose each other's.
    await other.getByText("quay-4.jpg").click();
    await other.locator(".approve").click();
    await other.locator("#pane-name", { hasText: "quay-5." }).waitFor();
    await page.reload();
    expect(await page.locator("label[for=verdict-approved] b").textContent()).toBe("2");
    expect(await page.locator(".keeps").textContent()).toMatch(/^3 decisions are kept in this browser only/);
    await page.locator("label[for=verdict-sent-back]").click();
    expect(await page.locator(".uploads .name").allTextContents()).toEqual(["quay-1.jpg"]);
    await page.keyboard.press("j");
    expect(await page.locator(".decided").textContent()).toMatch(/^Sent back, .*: The date is cut off$/);
    await page.keyboard.press("u");
    expect(await shown(page)).toBe("No upload is like that.");
    const saving = page.waitForEvent("download");
    await page.getByText("Save as a file").click();
    const saved = JSON.parse(readFileSync(await (await saving).path(), "utf8"));
    const verdicts = saved.map(({ verdict }: { verdict: string }) => verdict);
    expect(verdicts).toEqual(["approved", "sent-back", "approved", "open"]);
    await page.context().close();
  });

  it("keeps a note that is typed and not sent, and approves no refused upload", async () => {
    const page = await open();
    const note = page.locator(".decide textarea");
    await page.getByText("quay-5.jpg").click();
    await note.fill("Ask for the original");
    await page.getByText("quay-7.jpg").click();
    expect(await note.inputValue()).toBe("");
    expect(await page.locator(".approve").isVisible()).toBe(false);
    await page.keyboard.press("Escape");
    await page.keyboard.press("a");
    expect(await page.locator("label[for=verdict-approved] b").textContent()).toBe("0");
    await page.getByText("quay-5.jpg").click();
    expect(await note.inputValue()).toBe("Ask for the original");
    await page.context().close();
  });

  it("leads to the files of a piece", async () => {
    const page = await open();
    await page.getByText("quay-0.jpg").click();
    const addresses = await page.evaluate<string[]>(
      "[...document.querySelectorAll('.links a')].map((link) => link.href)",
    );
    const endings = ["burn.png", "preview.png", "report.html", "report.json"];
    expect(addresses).toEqual(endings.map((end) => new URL(`week%2012/quay-0/quay-0.${end}`, address).href));
    await page.context().close();
  });

  it("copies the words for the customer", async () => {
    const page = await open({ permissions: ["clipboard-read", "clipboard-write"] });
    await page.getByText("quay-2.jpg").click();
    await page.locator(".copy").click();
    const words = await page.locator(".words").textContent();
    expect(words).toMatch(/blurred/);
    expect(await page.evaluate("navigator.clipboard.readText()")).toBe(words);
    await page.context().close();
  });

  it("keeps decisions in the folder where the desk serves it, and shows what another has decided", async () => {
    const desk = await openDeskServer(folder, 0);
    try {
      const [one, other] = [await openAt(desk.address), await openAt(desk.address)];
      await one.getByText("quay-0.jpg").click();
      await one.locator("[name=by]").fill("Mara");
      await one.locator(".approve").click();
      await other.locator("label[for=verdict-approved] b", { hasText: "1" }).waitFor();
      await other.getByText("quay-0.jpg").click();
      expect(await other.locator(".decided").textContent()).toMatch(/^Approved by Mara, /);
      await Promise.all([one.context().close(), other.context().close()]);
    } finally {
      await desk.close();
    }
  });

  it("leaves alone what somebody does while a slow decision is kept", async () => {
    rmSync(join(folder, "decisions"), { recursive: true, force: true });
    const desk = await openDeskServer(folder, 0);
    try {
      const page = await openAt(desk.address);
      const [asked, goOn] = await slowDecisions(page);
      await page.getByText("quay-10.jpg").click();
      await page.keyboard.press("b");
      await page.keyboard.type("The date is cut off");
      await page.keyboard.press("Enter");
      await expect.poll(() => asked.length).toBe(1);
      await page.keyboard.press("j");
      await page.keyboard.press("b");
      await page.keyboard.type("Ask for");
      goOn();
      await page.locator("label[for=verdict-sent-back] b", { hasText: "1" }).waitFor();
      await page.keyboard.type(" a larger one");
      expect(await nameOf(page)).toBe("week 12/quay-11.jpg");
      expect(await page.locator(".decide textarea").inputValue()).toBe("Ask for a larger one");
      // Neither does a decision about others touch the note. All of them are sent, and kept, at once.
      await page.locator("[name=search]").fill("quay-12");
      await page.locator(".pick-shown").click();
      await page.locator(".pass-picked").click();
      // 12 and 120 to 129, of which four ask or were refused: nobody approves those in passing.
      await page.locator(".passed", { hasText: /^Approved 7 ·/ }).waitFor();
      expect(await page.locator(".left-out").textContent()).toMatch(/^4 left as they are/);
      expect(await page.locator(".decide textarea").inputValue()).toBe("Ask for a larger one");
      expect(asked).toHaveLength(2);
      const notes = asked.flatMap((text) => [...text.matchAll(/"note":"([^"]*)"/g)].map(([, note]) => note));
      expect(notes).toEqual(["The date is cut off", ...Array<string>(7).fill("")]);
      await page.context().close();
    } finally {
      await desk.close();
    }
  });

  it("shows pictures lazily, with words for those who do not see them", async () => {
    const page = await open({ viewport: { width: 390, height: 800 } });
    await page.waitForLoadState("networkidle");
    expect(
      await page
        .locator(".uploads img")
        .first()
        .evaluate((image) => "naturalWidth" in image && image.naturalWidth),
    ).toBe(320);
    expect(await page.locator(".uploads img").first().getAttribute("alt")).toBe(
      "week 12/quay-0.jpg as it was sent, 1200 × 900 pixels",
    );
    expect(await page.locator(".uploads img").nth(1).getAttribute("alt")).toBe(
      "week 12/quay-0.jpg as predicted, 80 × 60 mm on slate",
    );
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
    await page.getByText("quay-2.jpg").click();
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(390);
    await page.context().close();
  });

  it("is in order for readers of any kind, light and closed, dark and open", async () => {
    const page = await open({ viewport: { width: 1200, height: 500 } });
    expect(await faultsOf(page, "grave")).toEqual([]);
    await page.emulateMedia({ colorScheme: "dark" });
    await page.keyboard.press("j");
    await page.keyboard.press("a");
    expect(await faultsOf(page, "grave")).toEqual([]);
    await page.context().close();
  });

  it("prints every upload that is shown, with nothing to click", async () => {
    const page = await open();
    await page.locator("label[for=group-ask]").click();
    await page.keyboard.press("j");
    await page.emulateMedia({ media: "print" });
    await page.evaluate("dispatchEvent(new Event('beforeprint'))");
    expect(await page.locator(".uploads > li:visible").count()).toBe(75);
    expect(await page.locator("button:visible, input:visible").count()).toBe(0);
    // Two side by side, also while an upload is open.
    const tops = await page.evaluate<number[]>(
      "[...document.querySelectorAll('.uploads > li')].slice(0, 3).map((row) => row.getBoundingClientRect().top)",
    );
    expect(tops[1]).toBe(tops[0]);
    expect(tops[2]).toBeGreaterThan(tops[0]);
    await page.context().close();
  });

  it("is a list to read where no script runs", async () => {
    const page = await open({ javaScriptEnabled: false });
    expect(await page.locator(".uploads > li:visible").count()).toBe(COUNT);
    expect(await page.locator("button:visible, input:visible").count()).toBe(0);
    expect(await page.locator(".uploads > li").nth(2).textContent()).toMatch(/quay-2.*Ask.*blurred.*slate/s);
    await page.context().close();
  });

  it("says nothing and asks for nothing beside its folder", () => {
    expect(said).toEqual([]);
  });
});

it("a row of the list leads to the report, whatever signs are in its path", () => {
  const outputs = ["a b/50 %#1.burn.png", "a b/50 %#1.report.html"];
  const entry = preparedEntry("50 %#1.jpg", { findings: [], figures }, outputs);
  expect(deskPage([{ entry }])).toContain('href="a%20b/50%20%25%231.report.html"');
});

describe("boards on the desk", () => {
  const board = {
    ...{ board: "board-01", material: "maple <b>", linesPerInch: 254, widthMm: 300, heightMm: 200 },
    ...{ seconds: 1500, pieceByPieceSeconds: 2400, outputs: ["boards/board-01.burn.png"] },
    pieces: [
      { file: "boat.jpg", copies: 3 },
      { file: "net.jpg", copies: 1 },
    ],
  };

  it("are listed with their files, time and what lies on none", () => {
    const laid = { boards: [board], notLaid: [{ file: "a", message: '"<i>.jpg" waits.' }] };
    const page = deskPage([], { laid });
    expect(page).toMatch(
      /4 pieces on 300 × 200 mm of maple &lt;b&gt;, 254 lines per inch; about 25 min in one run/,
    );
    expect(page).toContain('<a href="boards/board-01.burn.png">board-01.burn.png</a>');
    expect(page).toContain("1 piece lies on no board");
    expect(page).toContain("&quot;&lt;i&gt;.jpg&quot; waits.");
    expect(deskPage([])).not.toContain("Boards");
  });

  it("are not there while a pass is under way, and the page says how much is left", () => {
    expect(deskPage([], { remaining: 3 })).toMatch(
      /3 more are not done yet: the batch is at work, or was stopped/,
    );
  });
});

it("pieces that are wanted several times count as often in the machine time", () => {
  const entry = preparedEntry("boat.jpg", { findings: [], figures: { ...figures, seconds: 60 } }, []);
  const page = deskPage([{ entry: { ...entry, quantity: 12 } }, { entry: { ...entry, file: "net.jpg" } }]);
  expect(page).toContain("2 prepared: about 13 min of machine time");
  expect(page).toContain("12 pieces, about 12 min");
});
