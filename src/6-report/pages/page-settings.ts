import { densityWords, durationWords, mmWords } from "../../core/words.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Report } from "../report.js";
import { alongWords, densitiesWords, powerWords, sizeWords } from "../words/report-words.js";
import { escapeHtml } from "./html-page.js";

/** What to set on the machine, large enough to read from a step away. */
interface Setting {
  readonly name: string;
  readonly value: string;
  readonly note: string;
}

function settingsOf(report: Report, options: ResolvedOptions): Setting[] {
  const { job, runTime } = report;
  const { referencePitchMm } = options.material;
  const line =
    alongWords(job) === mmWords(job.pitchAcrossMm)
      ? `lines and pixels ${mmWords(job.pitchAcrossMm)} apart`
      : `lines ${mmWords(job.pitchAcrossMm)} apart, pixels along them ${alongWords(job)}`;
  return [
    { name: "Size", value: sizeWords(job), note: "as the bitmap says; never scale it" },
    { name: "Lines per inch", value: densitiesWords(job), note: line },
    { name: "Pixels", value: `${job.columns} × ${job.rows}`, note: "along × across; black burns" },
    {
      name: "Speed",
      value: `${densityWords(options.speedMmPerS)} mm/s`,
      note: `${options.oneWay ? "burning in one direction" : "burning both ways"}, ${options.accelerationMmPerS2} mm/s²${job.around ? " of the turning surface" : ""}`,
    },
    {
      name: "Power",
      value: referencePitchMm === undefined ? "full tone" : `× ${report.coverage.powerFactor.toFixed(2)}`,
      note: powerWords(report, referencePitchMm),
    },
    {
      name: "Run time",
      value: durationWords(runTime.seconds),
      note: `${runTime.lines} lines${runTime.blankLines > 0 ? `, ${runTime.blankLines} blank ones stepped over` : ""}; beam on ${durationWords(runTime.beamOnSeconds)}`,
    },
  ];
}

/** A number and its unit stay on one line. */
const unbroken = (text: string): string =>
  text.replace(/(\d|×) (?=(?:s|min|h|mm|%|×)(?![a-z])|\d)/g, "$1\u00a0");

/** The settings as tiles. */
export function settingsHtml(report: Report, options: ResolvedOptions): string {
  const tiles = settingsOf(report, options).map(
    ({ name, value, note }) =>
      `<div><dt>${escapeHtml(name)}</dt><dd><strong>${escapeHtml(unbroken(value))}</strong> <span>${escapeHtml(unbroken(note))}</span></dd></div>`,
  );
  return `<section aria-label="What to set on the machine"><dl class="settings">${tiles.join("\n")}</dl></section>`;
}
