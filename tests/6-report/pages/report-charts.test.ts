import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { detailLimits } from "../../../src/5-burn/detail.js";
import { chartHtml } from "../../../src/6-report/pages/chart.js";
import { htmlPage } from "../../../src/6-report/pages/html-page.js";
import { modulationFigure } from "../../../src/6-report/pages/report-charts.js";
import { hasBrowser, type PageOpener, startBrowser } from "../../support/browser.js";

const beam = {
  pitch: { alongMm: 0.1, acrossMm: 0.1 },
  spot: { alongMm: 0.115, acrossMm: 0.115 },
  motion: { speedMmPerS: 300, firingLagUs: 0, firingLossUs: 0, lineShiftMm: 0, oneWay: false },
};

describe.skipIf(!hasBrowser())("the chart of detail", () => {
  let browser: PageOpener;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser?.close());

  it.each([
    [1280, 15.8],
    [390, 15.8],
    [390, 1.2],
  ])("keeps its words inside the picture: %i px wide, photo of %d px/mm", async (width, pxPerMm) => {
    const detail = detailLimits(beam.pitch, beam.spot, beam.motion, pxPerMm);
    const { chart } = modulationFigure(detail, beam);
    // The axis ends at 8, and the photo's limit, half its pixels, lies at an end of it.
    expect(chart.x.max).toBe(8);
    const html = htmlPage("Detail", `<figure>${await chartHtml(chart)}</figure>`);
    const { page } = await browser.open(html, { viewport: { width, height: 800 } });
    const outside = await page.evaluate<string[]>(`(() => {
      const picture = document.querySelector("svg[role=img]").getBoundingClientRect();
      return [...document.querySelectorAll("svg[role=img] text")].flatMap((text) => {
        const { left, right, top, bottom } = text.getBoundingClientRect();
        const isInside = left >= picture.left && right <= picture.right && top >= picture.top && bottom <= picture.bottom;
        return isInside ? [] : [text.textContent];
      });
    })()`);
    expect(outside).toEqual([]);
    expect(await page.getByText(`photo ${detail.photoLpPerMm.toFixed(1)}`).isVisible()).toBe(true);
    await page.context().close();
  });
});
