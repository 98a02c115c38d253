import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

/** Longest that a case may take, and most that the process may hold. */
export const LIMITS = { caseMs: 10_000, residentBytes: 1e9 } as const;

const LOOK_EVERY_MS = 100;
const child = fileURLToPath(new URL("child.ts", import.meta.url));

export interface FuzzResult {
  readonly cases: number;
  /** Uncaught errors, ends of the process, and cases that took too long or too much. */
  readonly faults: readonly string[];
  /** How many cases of each kind ended in what. */
  readonly endings: ReadonlyMap<string, number>;
  readonly slowestMs: number;
  readonly peakBytes: number;
}

/** Run cases [from, to) in a process of their own, and after a fault go on behind it. */
export async function runCases(from: number, to: number): Promise<FuzzResult> {
  const faults: string[] = [];
  const endings = new Map<string, number>();
  let [next, slowestMs, peakBytes] = [from, 0, 0];

  const stretch = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const run = spawn(process.execPath, ["--import", "tsx", child, String(next), String(to)], {
        stdio: ["ignore", "pipe", "pipe"],
      });
      let began = performance.now();
      let current = next;
      let killedFor = "";
      let said = "";
      run.stderr.on("data", (data) => {
        said = (said + data).slice(-2000);
      });
      createInterface({ input: run.stdout }).on("line", (line) => {
        const [, what, number, rest = ""] = /^(begin|end|fault) (\d+) ?(.*)$/.exec(line) ?? [];
        if (what === "begin") {
          current = Number(number);
          began = performance.now();
          return;
        }
        slowestMs = Math.max(slowestMs, performance.now() - began);
        if (what === "fault") faults.push(`case ${number}: ${rest}`);
        else if (what === "end") endings.set(rest, (endings.get(rest) ?? 0) + 1);
        next = Number(number) + 1;
      });
      const watch = setInterval(() => {
        const bytes = residentBytes(run.pid);
        peakBytes = Math.max(peakBytes, bytes);
        if (bytes > LIMITS.residentBytes) killedFor = `holds ${Math.round(bytes / 1e6)} MB`;
        else if (performance.now() - began > LIMITS.caseMs && next > from) killedFor = "takes too long";
        if (killedFor) run.kill("SIGKILL");
      }, LOOK_EVERY_MS);
      run.on("error", reject);
      run.on("close", (status, signal) => {
        clearInterval(watch);
        if (next >= to) return resolve();
        faults.push(`case ${current}: ${killedFor || `ended its process (${signal ?? status}) ${said}`}`);
        next = current + 1;
        resolve();
      });
    });

  while (next < to) await stretch();
  return { cases: to - from, faults, endings, slowestMs, peakBytes };
}

/** Where the system tells; 0 elsewhere. */
function residentBytes(pid: number | undefined): number {
  try {
    const [, kilobytes] = /^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, "utf8")) ?? [];
    return 1024 * Number(kilobytes ?? 0);
  } catch {
    return 0;
  }
}
