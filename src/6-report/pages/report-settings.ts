import { densityWords, durationWords, mmWords } from "../../core/words.js";
import type { Report } from "../report.js";
import { startInShort } from "../words/placing-words.js";
import { alongWords, densitiesWords, powerWords, sizeWords } from "../words/report-words.js";
import type { FactSource } from "./facts/fact-group.js";
import { escapeHtml } from "./html-page.js";
import { type Tile, tilesHtml } from "./html-parts.js";

/** The settings of the machine. */
function settingsOf({ report, settings }: FactSource): Tile[] {
  const { job, runTime } = report;
  const { motion, accelerationMmPerS2, material } = settings;
  const apart =
    alongWords(job) === mmWords(job.pitchAcrossMm)
      ? `lines and pixels ${mmWords(job.pitchAcrossMm)} apart`
      : `lines ${mmWords(job.pitchAcrossMm)} apart, pixels along them ${alongWords(job)}`;
  const ways = motion.oneWay ? "burning in one direction" : "burning both ways";
  const blank = runTime.blankLines > 0 ? `, ${runTime.blankLines} blank ones skipped` : "";
  return [
    ["Size", sizeWords(job), "as the bitmap says; never scale it"],
    ...startTile(job),
    ["Lines per inch", densitiesWords(job), apart],
    ["Pixels", `${job.columns} × ${job.rows}`, "along × across; black burns"],
    [
      "Speed",
      `${densityWords(motion.speedMmPerS)} mm/s`,
      `${ways}, ${accelerationMmPerS2} mm/s²${job.around ? " of the turning surface" : ""}`,
    ],
    [
      "Power",
      material.referencePitchMm === undefined ? "full tone" : `× ${report.coverage.powerFactor.toFixed(2)}`,
      powerWords(report, material.referencePitchMm),
    ],
    [
      "Run time",
      durationWords(runTime.seconds),
      `${runTime.lines} lines${blank}; beam on ${durationWords(runTime.beamOnSeconds)}`,
    ],
  ];
}

/** Where a placed picture starts on a rotary attachment. */
function startTile({ around }: Report["job"]): Tile[] {
  if (!around?.placed) return [];
  const diameterMm = (around.topDiameterMm + around.bottomDiameterMm) / 2;
  return [
    [
      "Start",
      startInShort(around.placed),
      `from your mark${around.placed.fromRim ? " and from the rim" : ""}, upper left corner; rotary attachment at ${Number(diameterMm.toFixed(2))} mm`,
    ],
  ];
}

/** A number and its unit stay on one line. */
const unbroken = (text: string): string =>
  text.replace(/(\d|×) (?=(?:s|min|h|mm|%|×)(?![a-z])|\d)/g, "$1\u00a0");

/** The settings as tiles. */
export const settingsHtml = (from: FactSource): string =>
  tilesHtml(
    "What to set on the machine",
    settingsOf(from).map(([name, value, note]) => [name, escapeHtml(unbroken(value)), unbroken(note)]),
  );
