import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync } from "node:fs";
import { builtCommand } from "../tools/ours.js";

/** Small pieces, so that the queue has much to do. */
const JOB = ["--width", "8mm", "--method", "floyd-steinberg", "--bitmap-only"];

export interface BatchRun {
  readonly status: number | null;
  readonly seconds: number;
  /** Of the command and the processes on its computer. */
  readonly processorSeconds: number;
  readonly stderr: string;
}

/** The built command on all uploads of a folder. */
export async function runBatch(
  uploads: string,
  out: string,
  workers: number,
  meetAt: readonly string[] = [],
): Promise<BatchRun> {
  const begun = performance.now();
  const times = `${out}.times`;
  const args = [
    ...["-o", times, "-f", "%U %S", process.execPath],
    builtCommand,
    "batch",
    uploads,
    ...JOB,
    "--workers",
    String(workers),
    "--out",
    out,
    ...meetAt,
  ];
  const child = spawn("/usr/bin/time", args, { stdio: ["ignore", "ignore", "pipe"] });
  const told: Buffer[] = [];
  child.stderr.on("data", (data) => told.push(data));
  const [status] = await once(child, "close");
  const seconds = (performance.now() - begun) / 1000;
  // A status other than 0 is told on a line of its own before.
  const [user, system] = (readFileSync(times, "utf8").trim().split("\n").at(-1) ?? "").split(" ").map(Number);
  const stderr = Buffer.concat(told).toString();
  return { status, seconds, processorSeconds: user + system, stderr };
}

/** Worker processes of the built command, which come and go. */
export function openWorkers(meetAt: readonly string[]) {
  const running = new Set<ChildProcess>();
  const told: Buffer[] = [];
  const start = (): void => {
    const args = [builtCommand, "worker", ...meetAt, "--workers", "1", "--lost-after", "2"];
    const worker = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] });
    worker.stderr.on("data", (data) => told.push(data));
    running.add(worker);
    worker.on("exit", () => running.delete(worker));
  };
  return {
    start,
    /** One of them, without a warning. @param share 0..1, which one */
    kill(share: number): void {
      [...running][Math.floor(share * running.size)]?.kill("SIGKILL");
    },
    told: () => Buffer.concat(told).toString(),
    async close(): Promise<void> {
      const ended = [...running].map((worker) => once(worker, "exit"));
      for (const worker of running) worker.kill("SIGTERM");
      await Promise.all(ended);
    },
  };
}
