import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checksumOfOutput, type Output, problemsOf, readOutput } from "./check.js";
import { type Cost, messageOf, runMeasured } from "./child.js";
import type { Contender, Job, Run } from "./job.js";
import type { Setting } from "./setting.js";

/** One contender at one job: its output, its problems, and the cost of each timed run. */
export interface Entry {
  readonly contender: Contender;
  readonly job: Job;
  readonly output: Output | undefined;
  /** Problems of the output and of the runs. With problems, `costs` has no meaning. */
  readonly problems: string[];
  readonly costs: Cost[];
}

/** Extra checks of the first output of a contender: see `problemsOf`. */
export type FurtherCheck = (contender: Contender, bitmap: string) => string[];

/**
 * Runs every contender: once to check its output, which also warms the file cache, then in rounds of one run each. Drift of the
 * machine then affects all alike. Every run starts with an empty folder and must give the pixels of the first run.
 */
export async function compare(
  { runs, expected, gnuTime }: Setting,
  tasks: readonly (readonly [Contender, Job])[],
  furtherCheck: FurtherCheck = () => [],
): Promise<Entry[]> {
  const scratch = mkdtempSync(join(tmpdir(), "spotpitch-bench-"));
  const folder = join(scratch, "out");
  const runOnce = (contender: Contender, job: Job): { run: Run; cost: Cost } => {
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder);
    const run = contender.run(job, folder, join(scratch, "kept", contender.name.replace(/\W+/g, "-")));
    return { run, cost: runMeasured(run.command, gnuTime, join(scratch, "cost"), run.environment) };
  };
  const startEntry = async ([contender, job]: readonly [Contender, Job]): Promise<Entry> => {
    try {
      const { bitmap } = runOnce(contender, job).run;
      const output = await readOutput(bitmap);
      const problems = [
        ...problemsOf(output, job, contender.tone, expected),
        ...furtherCheck(contender, bitmap),
      ];
      return { contender, job, output, problems, costs: [] };
    } catch (error) {
      return { contender, job, output: undefined, problems: [messageOf(error)], costs: [] };
    }
  };
  try {
    const entries: Entry[] = [];
    for (const task of tasks) entries.push(await startEntry(task));
    for (let round = 1; round <= runs; round++) {
      for (const entry of entries) {
        if (entry.problems.length === 0) addRun(entry, round, runOnce);
      }
    }
    return entries;
  } finally {
    rmSync(scratch, { recursive: true });
  }
}

function addRun(
  { contender, job, output, problems, costs }: Entry,
  round: number,
  runOnce: (contender: Contender, job: Job) => { run: Run; cost: Cost },
): void {
  try {
    const { run, cost } = runOnce(contender, job);
    const checksum = checksumOfOutput(run.bitmap);
    if (checksum === output?.checksum) costs.push(cost);
    else problems.push(`other pixels in round ${round}: ${checksum}`);
  } catch (error) {
    problems.push(`round ${round}: ${messageOf(error)}`);
  }
}

/** All problems, with the name of the contender and the size of the job. */
export const problemsIn = (entries: readonly Entry[]): string[] =>
  entries.flatMap(({ contender, job, problems }) =>
    problems.map((problem) => `${contender.name}, ${job.columns} × ${job.rows}: ${problem}`),
  );
