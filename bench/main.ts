/**
 * How long one job takes here and with general-purpose tools, and how fast our loops are, as Markdown: `npm run bench`.
 *
 *     --runs <n>   timed runs of each, after one run that is checked (default 5)
 *     --quick      one run on a small picture: shows that everything works, not how fast it is
 *
 * Exit code 1 where an output is not what it should be, 2 for a bad option.
 */
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { loadavg } from "node:os";
import { parseArgs } from "node:util";
import { compareJob } from "./job.js";
import { timeKernels } from "./kernels.js";
import { machineFacts } from "./machine.js";
import { benchPhoto } from "./photo.js";
import { checkNotes, checkTable, kernelTable, markdownTable, timeTable, unequal } from "./table.js";
import { builtCommand, findTools, LINES_PER_INCH, mmFromPixels, ourContenders, root } from "./tools.js";

interface BenchOptions {
  readonly runs: number;
  readonly quick: boolean;
}

class BadOption extends Error {}

function parsedArguments() {
  try {
    return parseArgs({ options: { runs: { type: "string" }, quick: { type: "boolean" } } }).values;
  } catch (error) {
    throw new BadOption(error instanceof Error ? error.message : String(error));
  }
}

function readOptions(): BenchOptions {
  const values = parsedArguments();
  const quick = values.quick ?? false;
  const runs = Number(values.runs ?? (quick ? 1 : 5));
  if (!Number.isInteger(runs) || runs < 1)
    throw new BadOption(`--runs wants a whole number from 1, not "${values.runs}".`);
  return { runs, quick };
}

const print = (...paragraphs: string[]): void => {
  for (const paragraph of paragraphs) process.stdout.write(`${paragraph}\n\n`);
};

async function bench({ runs, quick }: BenchOptions): Promise<void> {
  if (!existsSync(builtCommand)) execFileSync("npm", ["run", "build"], { cwd: root, stdio: "ignore" });
  const columns = quick ? 1200 : 4000;
  const tools = findTools();
  print("# Benchmark", markdownTable(["", ""], machineFacts(tools)));

  const photo = await benchPhoto(columns, (columns / 4) * 3);
  print(
    "## One job",
    `A colour JPEG of ${photo.columns} × ${photo.rows} pixels (synthetic, seeded, quality 92, checksum ${photo.checksum}) to a one-bit PNG of ${mmFromPixels(photo.columns)} × ${mmFromPixels(photo.rows)} mm at ${LINES_PER_INCH} lines per inch, Floyd–Steinberg. Median of ${runs} after a run that was checked.`,
  );
  const found = tools.filter(({ version }) => version !== undefined);
  const contenders = [...ourContenders, ...found.flatMap((tool) => tool.contenders)];
  const comparison = await compareJob(contenders, photo, runs);
  print(timeTable(comparison));
  for (const { name, version } of tools) if (version === undefined) print(`Missing: ${name}.`);
  print("What is not equal:", unequal.map((line) => `- ${line}`).join("\n"));
  print("### Checked before timing", checkTable(comparison), checkNotes);

  const results = timeKernels(columns, runs);
  print("## Kernels", "In memory, one core, after warming up.", kernelTable(results));
  print(`Load at the end: ${loadavg()[0].toFixed(1)}.`);

  const problems = [
    ...comparison.entries.flatMap(({ contender, problems }) =>
      problems.map((each) => `${contender.name}: ${each}`),
    ),
    ...results.flatMap(({ name, problem }) => (problem === undefined ? [] : [`${name}: ${problem}`])),
  ];
  if (problems.length === 0) print("All checks passed.");
  else print("**Failed checks:**", problems.map((problem) => `- ${problem}`).join("\n"));
  process.exitCode = problems.length === 0 ? 0 : 1;
}

try {
  await bench(readOptions());
} catch (error) {
  if (!(error instanceof BadOption)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
