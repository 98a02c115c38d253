import type { ResolvedOptions } from "../../options/options.js";
import type { Loupe } from "../pictures/loupe.js";
import { compareHtml, lifeSizeHtml, type PagePictures, pictureStore } from "../pictures/page-pictures.js";
import type { Report } from "../report.js";
import { escapeHtml, figureHtml, htmlPage, tableHtml } from "./html-page.js";
import { jobTableHtml } from "./job-table.js";
import { loupeHtml } from "./page-loupe.js";
import { pageScript } from "./page-script.js";
import { settingsHtml } from "./page-settings.js";
import { reportPageStyle } from "./page-style.js";
import { warningsHtml, warningsInShort } from "./page-warnings.js";
import type { ChartFigure } from "./report-charts.js";

/** A chart drawn already. */
export type DrawnFigure = Omit<ChartFigure, "chart"> & { readonly html: string };

export interface ReportPageParts {
  readonly report: Report;
  readonly options: ResolvedOptions;
  readonly pictures: PagePictures;
  readonly loupe: Loupe;
  readonly charts: readonly DrawnFigure[];
}

/** A prepared piece as one page to look at, and to print and pin beside the machine. */
export function reportPage({ report, options, pictures, loupe, charts }: ReportPageParts): string {
  const { input, job, tool } = report;
  const name = input.file || (job.kind === "solid" ? "Drawing" : "Photo");
  const drawn = charts.map(({ title, caption, html }) => figureHtml(title, html, caption, "h3"));
  const body = [
    pictureStore(report, pictures),
    `<header><h1>${escapeHtml(name)}</h1><p class="quiet">${escapeHtml(`on ${job.material}, ${report.edges ? "solid artwork" : `${job.method} halftone`}`)}</p>${warningsInShort(report)}</header>`,
    settingsHtml(report, options),
    compareHtml(report),
    warningsHtml(report),
    lifeSizeHtml(report),
    loupeHtml(report, loupe),
    `<section><h2>${report.tonalResolution ? "What tones and detail to expect" : "What detail to expect"}</h2><div class="pair plots">${drawn.join("\n")}${tonesTable(report)}</div></section>`,
    jobTableHtml(report, options),
    `<footer class="small"><p>${escapeHtml(`Figures for ${job.material}: ${job.materialSource}`)}</p><p>${escapeHtml(`${tool.name} ${tool.version}`)}. A prediction is a model's: it knows nothing of grain, knots, soot or heat that builds up.</p></footer>`,
  ];
  return htmlPage(`${name} on ${job.material}`, body.join("\n"), {
    style: reportPageStyle,
    script: pageScript("report-page"),
  });
}

/** Figures of the chart of tones, for whoever cannot see it or wants them exactly. */
function tonesTable({ tonalResolution }: Report): string {
  if (!tonalResolution) return "";
  return tableHtml(
    "Tones in figures",
    [{ head: "Side, mm" }, { head: "Pixels can address" }, { head: "Steady dose" }, { head: "Held" }],
    tonalResolution.map(({ detailMm, addressable, nominal, held }) => [
      String(detailMm),
      String(addressable),
      nominal.toFixed(1),
      held.toFixed(1),
    ]),
  );
}
