import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Report } from "../src/index.js";
import { type ExpectedTones, expectedTones, type Output, problemsOf, readOutput } from "./check.js";
import { type Cost, findGnuTime, runMeasured } from "./child.js";
import type { BenchPhoto } from "./photo.js";
import { BITMAP_ONLY, type Contender, FULL } from "./tools.js";

/** One contender's part in the comparison: what it wrote, what was wrong with it, what each timed run took. */
export interface Entry {
  readonly contender: Contender;
  readonly output: Output | undefined;
  readonly problems: readonly string[];
  /** Of no use where something was wrong. */
  readonly costs: readonly Cost[];
}

export interface Comparison {
  readonly entries: readonly Entry[];
  readonly expected: ExpectedTones;
  readonly gnuTime: string | undefined;
}

/**
 * Let every contender do the job: once to check what it writes (which also warms the file cache), then in `runs` rounds of
 * one run each, so that drift of the machine meets all alike. Every run starts with an empty folder and has to give the
 * pixels of the first.
 */
export async function compareJob(
  contenders: readonly Contender[],
  photo: BenchPhoto,
  runs: number,
): Promise<Comparison> {
  const scratch = mkdtempSync(join(tmpdir(), "spotpitch-bench-"));
  try {
    const gnuTime = findGnuTime();
    const runOnce = async (contender: Contender) => {
      const folder = join(scratch, "out");
      rmSync(folder, { recursive: true, force: true });
      mkdirSync(folder);
      const { command, bitmap } = contender.job(photo, folder);
      const cost = runMeasured(command, gnuTime, join(scratch, "cost"));
      return { cost, output: await readOutput(bitmap), bitmap };
    };
    const expected = await expectedTones(photo);
    const entries = [];
    for (const contender of contenders) entries.push(await firstRun(contender, photo, expected, runOnce));
    addPromiseOfSameBits(entries);

    for (let round = 0; round < runs; round++) {
      for (const { contender, output, problems, costs } of entries) {
        if (problems.length > 0) continue;
        try {
          const again = await runOnce(contender);
          if (again.output.checksum === output?.checksum) costs.push(again.cost);
          else problems.push(`other pixels in round ${round + 1}: ${again.output.checksum}`);
        } catch (error) {
          problems.push(`round ${round + 1}: ${messageOf(error)}`);
        }
      }
    }
    return { entries, expected, gnuTime };
  } finally {
    rmSync(scratch, { recursive: true });
  }
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

interface OpenEntry extends Entry {
  readonly problems: string[];
  readonly costs: Cost[];
}

async function firstRun(
  contender: Contender,
  photo: BenchPhoto,
  expected: ExpectedTones,
  runOnce: (contender: Contender) => Promise<{ output: Output; bitmap: string }>,
): Promise<OpenEntry> {
  try {
    const { output, bitmap } = await runOnce(contender);
    const tones = contender.tone === "compensated" ? undefined : expected[contender.tone];
    const problems = problemsOf(output, photo, tones);
    if (contender.name === FULL) problems.push(...problemsOfPrediction(bitmap));
    return { contender, output, problems, costs: [] };
  } catch (error) {
    return { contender, output: undefined, problems: [messageOf(error)], costs: [] };
  }
}

/** The preview has to be there, and the report has to foresee a smaller visual error than without compensation. */
function problemsOfPrediction(bitmap: string): string[] {
  const beside = (ending: string) => bitmap.replace(/\.burn\.png$/, ending);
  const { prediction }: Pick<Report, "prediction"> = JSON.parse(readFileSync(beside(".report.json"), "utf8"));
  const problems = existsSync(beside(".preview.png")) ? [] : ["no preview"];
  if (!prediction) return [...problems, "no prediction"];
  const { visualErrorRms: error, uncompensatedVisualErrorRms: without } = prediction;
  return error < without
    ? problems
    : [...problems, `visual error ${error} with compensation, ${without} without`];
}

/** With and without prediction the bitmap is the same. */
function addPromiseOfSameBits(entries: readonly OpenEntry[]): void {
  const named = (name: string) => entries.find(({ contender }) => contender.name === name);
  const full = named(FULL)?.output?.checksum;
  const fast = named(BITMAP_ONLY);
  if (fast && fast.output?.checksum !== full) fast.problems.push(`other pixels than ${FULL}: ${full}`);
}
