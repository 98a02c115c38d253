import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { hasTool } from "./tool.js";

/** Debian's browser: the driver's own would have to be downloaded. */
const COMMAND = "chromium";

/** Whether pages can be opened here. */
export const hasBrowser = (): boolean => hasTool(COMMAND);

/** A page as it was opened, and all that it said or asked for meanwhile. */
export interface OpenedPage {
  readonly page: Page;
  /** Console messages, errors, and requests other than for the file itself and what it holds. */
  readonly said: readonly string[];
}

export interface PageOpener {
  readonly open: (html: Uint8Array | string, options?: BrowserContextOptions) => Promise<OpenedPage>;
  readonly close: () => Promise<void>;
}

export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: `/usr/bin/${COMMAND}`, args: ["--no-sandbox", "--disable-gpu"] });

/** A headless browser that opens pages from files, as a user would. */
export async function startBrowser(): Promise<PageOpener> {
  const browser = await launchBrowser();
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-page-"));
  let count = 0;
  return {
    async open(html, options = {}) {
      const file = join(folder, `page-${count++}.html`);
      writeFileSync(file, html);
      const address = pathToFileURL(file).href;
      const context = await browser.newContext(options);
      const page = await context.newPage();
      const said: string[] = [];
      page.on("console", (message) => said.push(`${message.type()}: ${message.text()}`));
      page.on("pageerror", (error) => said.push(`error: ${error.message}`));
      page.on("request", (request) => {
        const url = request.url();
        if (url !== address && !url.startsWith("data:")) said.push(`request: ${url}`);
      });
      await page.goto(address);
      return { page, said };
    },
    async close() {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
