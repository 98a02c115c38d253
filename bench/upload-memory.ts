/**
 * The memory that a worker of a batch takes for an upload of each format, beside what was foreseen. Needs the built command and
 * Linux: `npm run build && npx tsx bench/upload-memory.ts --megapixels 12 --only avif`. With `--limit 0.5` all run under
 * `--memory 0.5` in a memory cgroup of 1 GB, if one may be made here: the kernel then ends whoever breaks the promise.
 */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { parseArgs } from "node:util";
import sharp, { type Sharp } from "sharp";
import { inspectPhoto } from "../src/1-photo/decode.js";
import { jobMemoryNeed, PROCESS_BYTES } from "../src/batch/memory-need.js";
import { resolveOptions } from "../src/options/options.js";

const { values } = parseArgs({
  options: {
    megapixels: { type: "string", default: "12" },
    only: { type: "string", default: "" },
    limit: { type: "string" },
  },
});
const rows = Math.round(Math.sqrt((1e6 * Number(values.megapixels)) / 1.4));
const columns = Math.round(1.4 * rows);
const scene = new URL("../sample-images/nets.jpg", import.meta.url).pathname;
const picture = (): Sharp => sharp(scene, { limitInputPixels: false }).resize(columns, rows, { fit: "fill" });
const deep = (): Sharp => picture().toColourspace("rgb16");
const drawing = (inside: string): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300">${inside}</svg>`);
const rectangles = (count: number): string =>
  Array.from({ length: count }, (_, i) => `<rect x="${i % 400}" y="${i % 300}" width="1" height="1"/>`).join(
    "",
  );

const files: Readonly<Record<string, () => Buffer | Promise<Buffer>>> = {
  "jpeg.jpg": () => picture().jpeg().toBuffer(),
  "progressive.jpg": () => picture().jpeg({ progressive: true }).toBuffer(),
  "plain.png": () => picture().png({ compressionLevel: 1 }).toBuffer(),
  "interlaced-16-bits.png": () => deep().png({ compressionLevel: 1, progressive: true }).toBuffer(),
  "interlaced-16-bits-clear.png": () =>
    deep().ensureAlpha(0.5).png({ compressionLevel: 1, progressive: true }).toBuffer(),
  "lossy.webp": () => picture().webp({ effort: 0 }).toBuffer(),
  "8-bits.avif": () => picture().avif({ effort: 0 }).toBuffer(),
  "10-bits.avif": () => picture().avif({ effort: 0, bitdepth: 10 }).toBuffer(),
  "lzw.tiff": () => picture().tiff({ compression: "lzw" }).toBuffer(),
  "elements.svg": () => drawing(rectangles(8000 * Number(values.megapixels))),
  "embedded.svg": async () => {
    const href = `data:image/jpeg;base64,${(await picture().jpeg().toBuffer()).toString("base64")}`;
    return drawing(`<image width="400" height="300" href="${href}"/>`);
  },
};

const WIDTH_MM = 100;
const command = new URL("../dist/cli/main.js", import.meta.url).pathname;

/** Peak of the resident memory of a process, in bytes, as the kernel kept it; 0 once it has ended. */
function peakOf(pid: number): number {
  try {
    return 1024 * Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? 0);
  } catch {
    return 0;
  }
}

const childrenOf = (pid: number): number[] =>
  readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8").trim().split(" ").filter(Boolean).map(Number);

/** Run a batch of one upload. Returns the peak of its workers, and what it said. */
async function measured(path: string, out: string, memoryGb: string, group?: string) {
  const args = [
    command,
    "batch",
    path,
    "--width",
    `${WIDTH_MM}mm`,
    "--workers",
    "1",
    "--memory",
    memoryGb,
    "--out",
    out,
  ];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "inherit"] });
  const { pid } = child;
  if (pid === undefined) throw new Error("The command did not start.");
  if (group) writeFileSync(join(group, "cgroup.procs"), String(pid));
  let said = "";
  child.stdout.on("data", (text: Buffer) => (said += text));
  let peak = 0;
  while (child.exitCode === null && child.signalCode === null) {
    for (const worker of childrenOf(pid)) peak = Math.max(peak, peakOf(worker));
    await pause(20);
  }
  return { peak, verdict: /refused {2,}(.*)/.exec(said)?.[1]?.slice(0, 60) ?? "prepared" };
}

/** A memory cgroup of 1 GB (version 1). */
function makeGroup(): string {
  const group = `/sys/fs/cgroup/memory/spotpitch-${process.pid}`;
  mkdirSync(group);
  writeFileSync(join(group, "memory.limit_in_bytes"), "1000000000");
  return group;
}

const folder = mkdtempSync(join(tmpdir(), "spotpitch-memory-"));
const group = values.limit === undefined ? undefined : makeGroup();
const mb = (bytes: number): string => `${Math.round(bytes / 1e6)} MB`;
console.log("| upload | pixels | foreseen | measured | verdict |\n|---|---|---|---|---|");
for (const [name, make] of Object.entries(files).filter(([name]) => name.includes(values.only))) {
  const path = join(folder, name);
  const bytes = await make();
  writeFileSync(path, bytes);
  const foreseen =
    PROCESS_BYTES + jobMemoryNeed(await inspectPhoto(bytes), resolveOptions({ widthMm: WIDTH_MM }));
  const { peak, verdict } = await measured(path, join(folder, `${name}-out`), values.limit ?? "16", group);
  console.log(`| ${name} | ${columns} × ${rows} | ${mb(foreseen)} | ${mb(peak)} | ${verdict} |`);
}
if (group) {
  const failures = readFileSync(join(group, "memory.failcnt"), "utf8").trim();
  const peak = Number(readFileSync(join(group, "memory.max_usage_in_bytes"), "utf8"));
  console.log(`In the cgroup: at most ${mb(peak)}, the limit met ${failures} times.`);
  rmdirSync(group);
}
rmSync(folder, { recursive: true });
