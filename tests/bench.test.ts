import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import { problemsOf, readOutput } from "../bench/check.js";
import { encodeBitmap, plane } from "../src/index.js";

const root = fileURLToPath(new URL("..", import.meta.url));
const bench = (...args: string[]) =>
  spawnSync(process.execPath, ["--import", "tsx", "bench/main.ts", ...args], { cwd: root, encoding: "utf8" });

/** Cells of the Markdown table that follows `heading`, without its head and rule. */
function tableAfter(text: string, heading: string): string[][] {
  const lines = text.slice(text.indexOf(`\n${heading}\n`)).split("\n");
  const first = lines.findIndex((line) => line.startsWith("|"));
  const table = lines.slice(first);
  const length = table.findIndex((line) => !line.startsWith("|"));
  return table.slice(2, length).map((line) =>
    line
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

describe("npm run bench", () => {
  it("prints its tables, and its checks pass", () => {
    const { status, stdout, stderr } = bench("--quick");
    expect(stderr).toBe("");
    expect(stdout).toContain("All checks passed.");
    expect(status).toBe(0);

    const jobs = tableAfter(stdout, "## One job");
    expect(jobs.filter(([name]) => name.startsWith("`spotpitch"))).toHaveLength(3);
    for (const tool of ["Pillow", "ImageMagick", "netpbm"]) {
      const present = jobs.some(([name]) => name.startsWith(tool));
      expect(stdout.includes(`Missing: ${tool}.`)).toBe(!present);
      if (process.env.CI) expect(present).toBe(true);
    }
    for (const [, , wallS] of jobs) expect(Number(wallS)).toBeGreaterThan(0);
    expect(tableAfter(stdout, "### Checked before timing")).toHaveLength(jobs.length);

    const kernels = tableAfter(stdout, "## Kernels");
    expect(kernels).toHaveLength(6);
    for (const [, , megapixelsPerS] of kernels) expect(Number(megapixelsPerS)).toBeGreaterThan(0);
  });

  it.each([[["--runs", "0"]], [["--runs", "many"]], [["--slow"]]])("refuses %j", (args) => {
    const { status, stdout } = bench(...args);
    expect(status).toBe(2);
    expect(stdout).toBe("");
  });
});

describe("the check before timing", () => {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const photo = { file: "", columns: 80, rows: 60, checksum: "" };
  const halfGrey = new Float64Array(40 * 30).fill(0.5);

  async function outputOf(name: string, bytes: Uint8Array) {
    const file = join(folder, name);
    writeFileSync(file, bytes);
    return readOutput(file);
  }

  it("passes a one-bit chequerboard as half grey, and as no other tone", async () => {
    const bits = Uint8Array.from({ length: 80 * 60 }, (_, i) => (i + Math.floor(i / 80)) % 2);
    const pitch = { alongMm: 0.05, acrossMm: 0.05 };
    const output = await outputOf(
      "one-bit.png",
      await encodeBitmap(plane("bitmap", bits, 60, 80, pitch), "png"),
    );
    expect(problemsOf(output, photo, halfGrey)).toEqual([]);
    const lighter = halfGrey.map((value) => value + 0.006);
    expect(problemsOf(output, photo, lighter)).toEqual(["mean tone off by 0.0060"]);
    const uneven = halfGrey.map((value, cell) => value + (cell % 2 ? 0.011 : -0.011));
    expect(problemsOf(output, photo, uneven)).toEqual(["tones of the cells off by 0.0110 rms"]);
  });

  it("finds a wrong size, depth and density", async () => {
    const grey = sharp({ create: { width: 80, height: 61, channels: 3, background: "#808080" } }).greyscale();
    const output = await outputOf("grey.png", await grey.withMetadata({ density: 300 }).png().toBuffer());
    expect(problemsOf(output, photo)).toEqual([
      "80 × 61 pixels instead of 80 × 60",
      "8 bits a pixel instead of 1",
      "density of 11811 × 11811 pixels a metre instead of 20000",
    ]);
  });
});
