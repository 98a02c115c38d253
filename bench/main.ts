/**
 * Run time of one job here and with general-purpose tools, its growth with size, and the speed of our loops, as Markdown:
 * `npm run bench`.
 *
 *     --only <part>  plain, ours, growth, kernels or start-up; may be repeated
 *     --runs <n>     timed runs of each, after the checked or warm-up runs (default 5)
 *     --all          also the largest piece, 372 Mpx
 *     --quick        one run on small pictures, as a test that everything works
 *
 * Exit code 1 if an output is wrong, 2 for a bad option.
 */
import { execFileSync } from "node:child_process";
import { existsSync, statSync } from "node:fs";
import { loadavg } from "node:os";
import { expectedTones } from "./check.js";
import { findGnuTime } from "./child.js";
import { growth } from "./growth.js";
import { root } from "./job.js";
import { kernels } from "./kernels.js";
import { machineFacts } from "./machine.js";
import { BadOption, type BenchOptions, type PartName, readOptions } from "./options.js";
import { ourJob } from "./our-job.js";
import { benchPhoto } from "./photo.js";
import { plainJob } from "./plain-job.js";
import type { Part, Setting } from "./setting.js";
import { startUp } from "./start-up.js";
import { list, markdownTable } from "./table.js";
import { findTools } from "./tools/find.js";
import { builtCommand } from "./tools/ours.js";

const PARTS: Readonly<Record<PartName, readonly [title: string, run: (setting: Setting) => Promise<Part>]>> =
  {
    plain: ["Plain job", plainJob],
    ours: ["Compensated job", ourJob],
    growth: ["Growth", growth],
    kernels: ["Kernels", kernels],
    "start-up": ["Start-up", startUp],
  };

const print = (...paragraphs: readonly string[]): void => {
  for (const paragraph of paragraphs) process.stdout.write(`${paragraph}\n\n`);
};

async function bench({ parts, runs, quick, all }: BenchOptions): Promise<void> {
  if (!existsSync(builtCommand)) execFileSync("npm", ["run", "build"], { cwd: root, stdio: "ignore" });
  const found = findTools();
  const tools = found.filter(({ version }) => version !== undefined);
  const gnuTime = findGnuTime();
  print("# Benchmark", markdownTable(["", ""], machineFacts(found, gnuTime)));
  for (const { name } of found.filter((tool) => !tools.includes(tool))) print(`Missing: ${name}.`);
  const photo = quick ? await benchPhoto(1200, 900) : await benchPhoto(4032, 3024);
  print(
    `The photo: a colour JPEG of ${photo.columns} × ${photo.rows} pixels, ${(statSync(photo.file).size / 1e6).toFixed(1)} MB (synthetic, seeded, quality 92, checksum ${photo.checksum}).`,
  );
  const expected = await expectedTones(photo);
  const problems = [];
  for (const name of parts) {
    const [title, run] = PARTS[name];
    const part = await run({ photo, expected, runs, quick, all, tools, gnuTime });
    print(`## ${title}`, ...part.paragraphs);
    problems.push(...part.problems);
  }
  print(`Load at the end: ${loadavg()[0].toFixed(1)}.`);
  if (problems.length === 0) print("All checks passed.");
  else print("**Failed checks:**", list(problems));
  process.exitCode = problems.length === 0 ? 0 : 1;
}

try {
  await bench(readOptions(process.argv.slice(2)));
} catch (error) {
  if (!(error instanceof BadOption)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
