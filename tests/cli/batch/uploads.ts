import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { lstatSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import type { UploadEntry } from "../../../src/index.js";
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

/** Every file and folder below a folder with a hash of what it holds. */
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

/** What a batch says of each upload. */
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

/** Run the built command and, after a while, send it a signal. */
export function runBatch(
  args: readonly string[],
  stop?: { readonly afterMs: number; readonly signal: NodeJS.Signals },
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [builtCommand, "batch", ...args], {
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
    const timer = stop && setTimeout(() => child.kill(stop.signal), stop.afterMs);
    child.on("error", reject);
    // Not "close": a worker may hold the pipes for a moment longer.
    child.on("exit", (status, signal) => {
      clearTimeout(timer);
      resolve({ status, signal, stdout, stderr });
    });
  });
}
