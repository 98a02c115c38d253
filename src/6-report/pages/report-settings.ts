import type { Reader } from "../../core/reader.js";
import { type ShownUnits, sizeWords, speedWords } from "../../core/shown-units.js";
import { durationWords, mmWords } from "../../core/words.js";
import type { Report } from "../report.js";
import { type Pace, paceWithAdvice } from "../words/pace-words.js";
import { rotaryDiameterWords, startInShort } from "../words/placing-words.js";
import { powerInShort } from "../words/power-words.js";
import { alongWords, densitiesWords } from "../words/report-words.js";
import type { FactSource } from "./facts/fact-group.js";
import { escapeHtml } from "./html-page.js";
import { type Tile, tilesHtml } from "./html-parts.js";
import { unbroken } from "./prose-html.js";

/** The settings of the machine. */
function settingsOf({ report, settings, reader }: FactSource): Tile[] {
  const { job, runTime, units } = report;
  const { motion, accelerationMmPerS2 } = settings;
  const { speedMmPerS } = motion;
  const { assumed, around } = job;
  const pace = { speedMmPerS, accelerationMmPerS2, assumed, isRound: around !== undefined };
  const passes = job.passes > 1 ? `${job.passes} passes, each of ` : "";
  const apart =
    alongWords(job) === mmWords(job.pitchAcrossMm)
      ? `lines and pixels ${mmWords(job.pitchAcrossMm)} apart`
      : `lines ${mmWords(job.pitchAcrossMm)} apart, pixels along them ${alongWords(job)}`;
  const ways = motion.oneWay ? "burning in one direction" : "burning both ways";
  return [
    ["Size", sizeWords(job, units), "as the bitmap says; never scale it"],
    ...startTile(job, units),
    ["Lines per inch", densitiesWords(job), apart],
    ["Pixels", `${job.columns} × ${job.rows}`, "along × across; black burns"],
    speedTile(pace, ways, reader),
    ["Power", powerInShort(report.power), report.power.message],
    [
      "Run time",
      durationWords(runTime.seconds),
      `at ${paceWithAdvice(pace, reader)}; ${passes}${runTime.lines} lines${blankWords(runTime)}; beam on ${durationWords(runTime.beamOnSeconds)}`,
    ],
  ];
}

/** A default does not stand in large type, where it would look like advice. The run time names it. */
function speedTile({ speedMmPerS, assumed }: Pace, ways: string, { units }: Reader): Tile {
  return ["Speed", assumed.includes("speedMmPerS") ? "your own" : speedWords(speedMmPerS, units), ways];
}

const blankWords = ({ blankLines }: Report["runTime"]): string =>
  blankLines === 0 ? "" : `, ${blankLines} blank ${blankLines === 1 ? "one" : "ones"} skipped`;

/** Where a placed picture starts on a rotary attachment. */
function startTile({ around }: Report["job"], units: ShownUnits): Tile[] {
  if (!around?.placed) return [];
  return [
    [
      "Start",
      startInShort(around.placed, units),
      `from your mark${around.placed.fromRim ? " and from the rim" : ""}, upper left corner; rotary attachment at ${rotaryDiameterWords(around, units)}`,
    ],
  ];
}

/** The settings as tiles. */
export const settingsHtml = (from: FactSource): string =>
  tilesHtml(
    "What to set on the machine",
    settingsOf(from).map(([name, value, note]) => [name, escapeHtml(unbroken(value)), unbroken(note)]),
  );
