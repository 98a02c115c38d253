import { tmpdir } from "node:os";
import { join } from "node:path";
import { packageVersion } from "../src/core/version.js";
import { type Command, outputOf, runMeasured } from "./child.js";
import type { Part, Setting } from "./setting.js";
import { spreadOf } from "./statistics.js";
import { markdownTable, NONE, rangeOf } from "./table.js";
import { builtCommand } from "./tools/ours.js";

const MIN_RUNS = 15;

/** Each command, and a word that its output must contain. */
const COMMANDS: readonly (readonly [name: string, command: Command, word: string])[] = [
  ["`node -e 0`", [process.execPath, "-e", "0"], ""],
  ["`spotpitch --version`", [process.execPath, builtCommand, "--version"], packageVersion()],
  ["`spotpitch --help`", [process.execPath, builtCommand, "--help"], "prepare"],
  ["`spotpitch methods`", [process.execPath, builtCommand, "methods"], "floyd-steinberg"],
];

/** Time of commands that need no photo. */
export async function startUp({ runs, quick }: Setting): Promise<Part> {
  const rounds = quick ? runs : Math.max(runs, MIN_RUNS);
  const problems = COMMANDS.flatMap(([name, command, word]) =>
    outputOf(command)?.includes(word) ? [] : [`${name} does not print "${word}"`],
  );
  if (problems.length > 0) return { paragraphs: ["Failed its check."], problems };
  const wallMs = COMMANDS.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    for (const [i, [, command]] of COMMANDS.entries()) {
      wallMs[i].push(1000 * runMeasured(command, undefined, join(tmpdir(), "unused")).wallS);
    }
  }
  const [node] = wallMs;
  const table = markdownTable(
    ["command", "wall ms", "min–max", "/ Node"],
    COMMANDS.map(([name], i) => [
      name,
      spreadOf(wallMs[i]).median.toFixed(0),
      rangeOf(spreadOf(wallMs[i]), 0),
      i === 0 ? NONE : spreadOf(wallMs[i].map((ms, round) => ms / node[round])).median.toFixed(2),
    ]),
  );
  return {
    paragraphs: [`Median of ${rounds}, in turns; the last column within each round.`, table],
    problems,
  };
}
