/**
 * A pile of over 300 uploads through `spotpitch batch`, as Markdown: what became of each, memory, and how much quicker two
 * workers are. `npm run bench:batch`.
 *
 *     --runs <n>   timed runs with one worker and with two, turn about (default 5; 0 leaves them out)
 *     --width <mm> width of the pieces (default 40)
 *     --keep       leave the pile and what was made of it, and say where
 *
 * Exit code 1 where an upload did not end as it must.
 */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { makePile } from "../tests/cli/batch/pile.js";
import { builtCommand, entriesIn } from "../tests/cli/batch/uploads.js";
import { treeBytes } from "./process-tree.js";

const { values } = parseArgs({
  options: {
    runs: { type: "string", default: "5" },
    width: { type: "string", default: "40" },
    keep: { type: "boolean", default: false },
  },
});
const LIMITS = ["--max-file-size", "25", "--max-megapixels", "150"];
const MEMORY_GB = 2.5;
/** Uploads of a timed run. */
const TIMED = 40;
const SAMPLE_EVERY_MS = 100;

const folder = mkdtempSync(join(tmpdir(), "spotpitch-pile-"));
const pile = join(folder, "uploads");
const print = (text: string): void => void process.stdout.write(`${text}\n`);

interface Run {
  readonly status: number | null;
  readonly seconds: number;
  readonly peakBytes: number;
  readonly stderr: string;
}

function batch(uploads: string, out: string, ...options: string[]): Promise<Run> {
  const args = [builtCommand, "batch", uploads, "--recursive", "--width", values.width, "--out", out];
  const startMs = performance.now();
  const child = spawn(process.execPath, [...args, ...options], { stdio: ["ignore", "ignore", "pipe"] });
  let [peakBytes, stderr] = [0, ""];
  child.stderr.on("data", (data) => {
    stderr += data;
  });
  const timer = setInterval(() => {
    peakBytes = Math.max(peakBytes, treeBytes(child.pid ?? 0));
  }, SAMPLE_EVERY_MS);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("exit", (status) => {
      clearInterval(timer);
      resolve({ status, seconds: (performance.now() - startMs) / 1000, peakBytes, stderr });
    });
  });
}

const median = (numbers: readonly number[]): number =>
  [...numbers].sort((a, b) => a - b)[numbers.length >> 1];

const expected = await makePile(pile);
const out = join(folder, "out");
const options = [...LIMITS, "--memory", String(MEMORY_GB), "--workers", "2"];
const whole = await batch(pile, out, ...options);
const entries = entriesIn(out);
const wrong = [...expected].filter(([file, wanted]) => {
  const entry = entries.get(file);
  return (entry?.state === "prepared" ? "prepared" : entry?.code) !== wanted;
});
const prepared = [...entries.values()].filter(({ state }) => state === "prepared").length;
const strays = readdirSync(folder).filter((name) => name !== "uploads" && name !== "out");
print(`# A pile of uploads\n`);
print(
  `${entries.size} uploads: ${prepared} prepared, ${entries.size - prepared} refused, ${wrong.length} otherwise than they must; exit status ${whole.status}, ${whole.stderr === "" ? "nothing" : "something"} on stderr, ${strays.length} files beside the output folder.\n`,
);
for (const [file, wanted] of wrong) {
  print(`- ${JSON.stringify(file)}: ${wanted} wanted, got ${entries.get(file)?.code}`);
}
print(
  `${whole.seconds.toFixed(0)} s on two workers; all processes together held ${Math.round(whole.peakBytes / 2 ** 20)} MiB at most, of ${MEMORY_GB} GB allowed (sampled every ${SAMPLE_EVERY_MS} ms).\n`,
);
const again = await batch(pile, out, ...options);
print(`Run again: ${again.seconds.toFixed(1)} s.\n`);

const runs = Number(values.runs);
if (runs > 0) {
  const timed = join(folder, "timed");
  mkdirSync(timed);
  const good = [...expected].filter(([file, wanted]) => wanted === "prepared" && /-900-/.test(file));
  const every = Math.floor(good.length / TIMED);
  for (let i = 0; i < TIMED; i++) renameSync(join(pile, good[i * every][0]), join(timed, good[i * every][0]));
  const seconds: Record<string, number[]> = { 1: [], 2: [] };
  for (let run = 0; run < runs; run++) {
    for (const workers of ["1", "2"]) {
      const fresh = join(folder, `timed-out`);
      seconds[workers].push((await batch(timed, fresh, ...LIMITS, "--workers", workers)).seconds);
      rmSync(fresh, { recursive: true });
    }
  }
  const ratios = seconds[1].map((one, i) => one / seconds[2][i]);
  const list = (numbers: readonly number[]): string => numbers.map((each) => each.toFixed(1)).join(", ");
  print(
    `${TIMED} uploads, one worker: ${list(seconds[1])} s; two: ${list(seconds[2])} s. Throughput of two over one, median of ${runs}: ${median(ratios).toFixed(2)} (${ratios.map((each) => each.toFixed(2)).join(", ")}).\n`,
  );
}
print(`Load at the end: ${loadavg()[0].toFixed(1)}.`);
if (values.keep) print(`Kept in ${folder}.`);
else rmSync(folder, { recursive: true });
process.exitCode = wrong.length === 0 && strays.length === 0 && whole.status === 4 ? 0 : 1;
