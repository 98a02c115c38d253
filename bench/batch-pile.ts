/**
 * A pile of uploads through the built command: `npm run bench:batch`.
 *
 *     --count <n>   uploads, with hostile ones among them (default 320)
 *     --runs <n>    timed runs with one worker and with two, in turn (default 5)
 *
 * It checks every verdict first, then measures throughput and memory. Memory is the sum over all processes of the command, sampled
 * 20 times per second. Shared pages count more than once, so the sum is rather too high. Exit code 1 if a verdict is wrong.
 */
import { spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { UploadEntry } from "../src/batch/entry.js";
import type { Wanted } from "../tests/cli/batch/hostile-uploads.js";
import { spreadOf } from "./statistics.js";
import { list, markdownTable } from "./table.js";
import { builtCommand } from "./tools/ours.js";
import { makePile } from "./upload-pile.js";

const LOOK_EVERY_MS = 50;

const { values } = parseArgs({ options: { count: { type: "string" }, runs: { type: "string" } } });
const count = Number(values.count ?? 320);
const runs = Number(values.runs ?? 5);

interface Timed {
  readonly seconds: number;
  readonly peakBytes: number;
  readonly status: number | null;
}

/** A run of the command into a new folder. */
function timed(uploads: string, out: string, workers: number): Promise<Timed> {
  const job = ["--recursive", "--width", "60mm", "--density", "254", "--material", "slate"];
  const limits = ["--max-file-size", "40", "--max-megapixels", "120"];
  return new Promise((resolve, reject) => {
    const begun = performance.now();
    const args = [
      builtCommand,
      "batch",
      uploads,
      ...job,
      ...limits,
      "--workers",
      String(workers),
      "--out",
      out,
    ];
    const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "inherit"] });
    let peakBytes = 0;
    const look = setInterval(() => {
      peakBytes = Math.max(peakBytes, residentBytesOfTree(child.pid ?? 0));
    }, LOOK_EVERY_MS);
    child.on("error", reject);
    child.on("close", (status) => {
      clearInterval(look);
      resolve({ seconds: (performance.now() - begun) / 1000, peakBytes, status });
    });
  });
}

function residentBytesOfTree(root: number): number {
  const parents = new Map<number, number>();
  const sizes = new Map<number, number>();
  for (const name of readdirSync("/proc")) {
    if (!/^\d+$/.test(name)) continue;
    try {
      const status = readFileSync(`/proc/${name}/status`, "utf8");
      parents.set(Number(name), Number(/^PPid:\s+(\d+)/m.exec(status)?.[1] ?? 0));
      sizes.set(Number(name), 1024 * Number(/^VmRSS:\s+(\d+)/m.exec(status)?.[1] ?? 0));
    } catch {
      // ended meanwhile
    }
  }
  const below = (pid: number): boolean => pid === root || (parents.has(pid) && below(parents.get(pid) ?? 0));
  return [...sizes].reduce((sum, [pid, bytes]) => sum + (below(pid) ? bytes : 0), 0);
}

/** Wrong verdicts. The 3 MB upload is within the limits here. */
function faultsOf(out: string, wanted: ReadonlyMap<string, Wanted>): string[] {
  const { uploads } = JSON.parse(readFileSync(join(out, "batch.json"), "utf8")) as { uploads: UploadEntry[] };
  const verdicts = new Map(uploads.map((entry) => [entry.file, entry]));
  return [...wanted].flatMap(([file, comes]) => {
    const { state, code = "no verdict" } = verdicts.get(file) ?? {};
    if (comes === "either" || file === "heavy.jpg") return [];
    const right = comes === "prepared" ? state === "prepared" : code === comes;
    return right ? [] : [`${JSON.stringify(file)}: ${state} ${code}, should be ${comes}`];
  });
}

const folder = mkdtempSync(join(tmpdir(), "spotpitch-pile-"));
try {
  const uploads = join(folder, "uploads");
  const wanted = await makePile(uploads, count);
  const refused = [...wanted.values()].filter((comes) => comes.startsWith("INPUT_")).length;
  const first = await timed(uploads, join(folder, "out"), 2);
  const faults = faultsOf(join(folder, "out"), wanted);
  console.log(`## ${wanted.size} uploads, ${refused} of them to be refused\n`);
  console.log(
    list([`exit status ${first.status}`, ...(faults.length > 0 ? faults : ["every verdict is right"])]),
  );
  const again = await timed(uploads, join(folder, "out"), 2);
  console.log(list([`again, with nothing to do: ${again.seconds.toFixed(1)} s`]));
  process.exitCode = faults.length > 0 ? 1 : 0;
  const made: Record<1 | 2, Timed[]> = { 1: [], 2: [] };
  for (let run = 0; run < runs; run++) {
    for (const workers of [1, 2] as const) {
      rmSync(join(folder, "out"), { recursive: true });
      made[workers].push(await timed(uploads, join(folder, "out"), workers));
    }
  }
  if (runs > 0) {
    const body = ([1, 2] as const).map((workers) => {
      const { median, min, max } = spreadOf(made[workers].map(({ seconds }) => seconds));
      const peak = Math.max(...made[workers].map(({ peakBytes }) => peakBytes)) / 2 ** 20;
      return [
        String(workers),
        `${median.toFixed(1)} (${min.toFixed(1)}–${max.toFixed(1)})`,
        (wanted.size / median).toFixed(2),
        `${Math.round(peak)}`,
      ];
    });
    const ratios = made[1].map(({ seconds }, run) => seconds / made[2][run].seconds);
    console.log(`\n${markdownTable(["workers", "seconds", "uploads a second", "peak MiB"], body)}`);
    console.log(`\nTwo workers over one, run by run: median ${spreadOf(ratios).median.toFixed(2)}`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
