import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { lstatSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import type { UploadEntry } from "../../../src/batch/entry.js";
import { photographPath } from "../../pipeline/photograph.js";

export const builtCommand = fileURLToPath(new URL("../../../dist/cli/main.js", import.meta.url));

/** Fill a folder with small pictures in several formats and two that cannot be used. */
export async function makeUploads(folder: string, count = 6): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const formats = ["jpeg", "png", "webp", "tiff"] as const;
  const names = ["nagasaki-boats", "black-canyon", "acanthus-mollis"];
  for (let i = 0; i < count; i++) {
    const format = formats[i % formats.length];
    const bytes = await sharp(photographPath(names[i % names.length]))
      .resize(220 + 20 * i)
      .toFormat(format)
      .toBuffer();
    writeFileSync(join(folder, `quay-${i}.${format}`), bytes);
  }
  writeFileSync(join(folder, "empty.jpg"), "");
  writeFileSync(join(folder, "letter.jpg"), "Dear harbour workshop, here is my picture.");
}

/** Every file and folder below a folder, with a hash of its content. */
export function treeOf(folder: string): Record<string, string> {
  const tree: Record<string, string> = {};
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" }).sort()) {
    const path = join(folder, name);
    tree[name] = lstatSync(path).isFile()
      ? createHash("sha256").update(readFileSync(path)).digest("hex")
      : "not a file";
  }
  return tree;
}

/** What a batch says of each upload, by its name. */
export function entriesIn(out: string): Map<string, UploadEntry> {
  const { uploads } = JSON.parse(readFileSync(join(out, "batch.json"), "utf8")) as { uploads: UploadEntry[] };
  return new Map(uploads.map((entry) => [entry.file, entry]));
}

export interface Ended {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** When to send a signal: after a while, or once something has happened. */
type Stop = { readonly signal: NodeJS.Signals } & (
  | { readonly afterMs: number }
  | { readonly when: () => boolean }
);

/** Run the built command, with variables beside those of the environment, and in between send it a signal. */
export function runBatch(
  args: readonly string[],
  stop?: Stop,
  env: Readonly<Record<string, string>> = {},
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [builtCommand, "batch", ...args], {
      env: { ...process.env, ...env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let stdout = "";
    let stderr = "";
    child.stdout.on("data", (data) => {
      stdout += data;
    });
    child.stderr.on("data", (data) => {
      stderr += data;
    });
    const timer = stop && stopper(child, stop);
    child.on("error", reject);
    // Not "close": a worker may hold the pipes for a moment longer.
    child.on("exit", (status, signal) => {
      clearInterval(timer);
      resolve({ status, signal, stdout, stderr });
    });
  });
}

const LOOK_EVERY_MS = 5;

function stopper(child: ChildProcess, stop: Stop): NodeJS.Timeout {
  if ("afterMs" in stop) return setTimeout(() => child.kill(stop.signal), stop.afterMs);
  const timer = setInterval(() => {
    if (!stop.when()) return;
    clearInterval(timer);
    child.kill(stop.signal);
  }, LOOK_EVERY_MS);
  return timer;
}
