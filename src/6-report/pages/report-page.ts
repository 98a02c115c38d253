import type { Loupe } from "../pictures/loupe.js";
import type { Report } from "../report.js";
import { pageScript, pageStyle } from "./browser-files.js";
import type { ChartFigure } from "./chart-types.js";
import type { FactSource } from "./facts/fact-group.js";
import { escapeHtml, htmlPage } from "./html-page.js";
import { figureHtml, footHtml, headHtml, tableHtml } from "./html-parts.js";
import { jobTableHtml } from "./job-table.js";
import { type LossMap, lossesHtml } from "./report-losses.js";
import { loupeHtml } from "./report-loupe.js";
import { compareHtml, lifeSizeHtml, type PagePictures, pictureStore } from "./report-pictures.js";
import { placeHtml } from "./report-place.js";
import { settingsHtml } from "./report-settings.js";
import { warningsHtml, warningsInShort } from "./report-warnings.js";

/** A finished chart. */
export type DrawnFigure = Omit<ChartFigure, "chart"> & { readonly html: string };

export interface ReportPageParts extends FactSource {
  readonly pictures: PagePictures;
  /** Where distinctions of the photo are lost. */
  readonly losses?: LossMap | undefined;
  readonly loupe: Loupe;
  readonly charts: readonly DrawnFigure[];
}

/** A prepared piece as one page to view, or to print and put beside the machine. */
export function reportPage({ pictures, losses, loupe, charts, ...facts }: ReportPageParts): string {
  const { report } = facts;
  const { input, job, tool } = report;
  const name = input.file || (job.kind === "solid" ? "Drawing" : "Photo");
  const about = `on ${job.material}, ${report.edges ? "solid artwork" : `${job.method} halftone`}`;
  const drawn = charts.map(({ title, caption, html }) => figureHtml(title, html, caption, "h3"));
  const body = [
    pictureStore(report, pictures),
    headHtml(name, escapeHtml(about), warningsInShort(report)),
    settingsHtml(facts),
    `<div class="first">${compareHtml(report)}${warningsHtml(report)}</div>`,
    lossesHtml(report, losses),
    placeHtml(report),
    lifeSizeHtml(report),
    loupeHtml(report, loupe),
    `<section><h2>${report.tonalResolution ? "What tones and detail to expect" : "What detail to expect"}</h2><div class="pair plots">${drawn.join("\n")}${tonesTable(report)}</div></section>`,
    jobTableHtml(facts),
    footHtml(tool, `Figures for ${job.material}: ${job.materialSource}`),
  ];
  return htmlPage(`${name} on ${job.material}`, body.join("\n"), {
    style: pageStyle("tiles", "border", "slider", "loupe", "report-page"),
    script: pageScript("report-page"),
  });
}

/** The figures of the tone chart, for exact values and for screen readers. */
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
