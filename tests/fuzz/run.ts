import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Told } from "./child.js";

const child = fileURLToPath(new URL("./child.ts", import.meta.url));
const LONGEST_MS = 10_000;

export interface FuzzResult {
  readonly cases: number;
  readonly accepted: number;
  readonly peakRssBytes: number;
  readonly longestMs: number;
  /** Uncaught errors, hangs and deaths, each with its case. */
  readonly failures: readonly string[];
}

/** Run cases from `first` up to `end` in a process of their own, begun anew after one that dies or hangs. */
export async function fuzz(first: number, end: number): Promise<FuzzResult> {
  let [accepted, cases, peakRssBytes, longestMs] = [0, 0, 0, 0];
  const failures: string[] = [];
  for (let next = first; next < end; ) {
    next = await new Promise<number>((resolve) => {
      const process = fork(child, [String(next), String(end)], { execArgv: ["--import", "tsx"] });
      let running = "before the first case";
      let last = next - 1;
      let begunMs = performance.now();
      let timer: NodeJS.Timeout | undefined;
      process.on("message", (told: Told) => {
        clearTimeout(timer);
        if ("begun" in told) {
          last = told.begun;
          running = `case ${told.begun} (${told.kind})`;
          begunMs = performance.now();
          timer = setTimeout(() => process.kill("SIGKILL"), LONGEST_MS);
        } else if ("failed" in told) {
          failures.push(`case ${told.failed} (${told.kind}): ${told.reason}`);
        } else {
          cases++;
          if (told.accepted) accepted++;
          peakRssBytes = Math.max(peakRssBytes, told.rssBytes);
          longestMs = Math.max(longestMs, performance.now() - begunMs);
        }
      });
      process.on("exit", (status, signal) => {
        clearTimeout(timer);
        if (status === 0) return resolve(end);
        failures.push(`${running}: ended by ${signal ?? `status ${status}`}`);
        // Nothing more can be learned where not even the first begins.
        resolve(last < next ? end : last + 1);
      });
    });
  }
  return { cases, accepted, peakRssBytes, longestMs, failures };
}
