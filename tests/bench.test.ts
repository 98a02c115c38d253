import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import { checksumOfOutput, problemsOf, readOutput } from "../bench/check.js";
import { compare, problemsIn } from "../bench/compare.js";
import type { Contender, Job } from "../bench/job.js";
import { BadOption, readOptions } from "../bench/options.js";
import { fitExponent, fitLine, rankCorrelation, spreadOf } from "../bench/statistics.js";

const root = fileURLToPath(new URL("..", import.meta.url));
const bench = (...args: string[]) =>
  spawnSync(process.execPath, ["--import", "tsx", "bench/main.ts", ...args], { cwd: root, encoding: "utf8" });

/** Cells of the Markdown tables between `heading` and the next one of its level. */
function tableAfter(text: string, heading: string): string[][] {
  const after = text.split(`\n${heading}\n`)[1]?.split("\n## ")[0] ?? "";
  const lines = after.split("\n");
  const table = lines.slice(lines.findIndex((line) => line.startsWith("|")));
  const length = table.findIndex((line) => !line.startsWith("|"));
  return table.slice(2, length).map((line) =>
    line
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

describe("npm run bench", () => {
  // The other parts go the same ways; how fast they are is no matter of a test.
  it("prints its tables, and its checks pass", () => {
    const { status, stdout, stderr } = bench("--quick", "--only", "plain", "--only", "kernels");
    expect(stderr).toBe("");
    expect(stdout).toContain("All checks passed.");
    expect(status).toBe(0);

    const jobs = tableAfter(stdout, "## Plain job");
    expect(jobs.filter(([name]) => name.startsWith("`spotpitch"))).toHaveLength(2);
    for (const tool of ["Pillow", "ImageMagick", "GraphicsMagick", "netpbm", "sharp"]) {
      const present = jobs.some(([name]) => name.startsWith(tool));
      expect(stdout.includes(`Missing: ${tool}.`)).toBe(!present);
      if (process.env.CI) expect(present).toBe(true);
    }
    expect(tableAfter(stdout, "### Checked before timing")).toHaveLength(jobs.length);
    for (const [, , wallS] of jobs) expect(Number(wallS)).toBeGreaterThan(0);

    const kernels = tableAfter(stdout, "## Kernels");
    for (const form of ["plain", "SIMD", "sharp, C++"])
      expect(kernels.some(([, each]) => each === form)).toBe(true);
    for (const [, , , megapixelsPerS] of kernels) expect(Number(megapixelsPerS)).toBeGreaterThan(0);
    // Both forms of a kernel give the same bits.
    for (const [name, form, , , , , checksum] of kernels) {
      const plain = kernels.find(([other, otherForm]) => other === name && otherForm === "plain");
      if (form === "SIMD") expect([name, checksum]).toEqual([name, plain?.at(-1)]);
    }
  });

  it("refuses what it does not know", () => {
    const { status, stdout } = bench("--slow");
    expect([status, stdout]).toEqual([2, ""]);
    for (const args of [["--runs", "0"], ["--runs", "many"], ["--slow"], ["--only", "nothing"]]) {
      expect(() => readOptions(args), args.join(" ")).toThrow(BadOption);
    }
  });
});

describe("the check before timing", () => {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const photo = { file: "", columns: 160, rows: 120, checksum: "" };
  const job: Job = { photo, columns: 80, rows: 60, linesPerInch: 508 };
  const flat = (value: number) => new Float64Array(40 * 30).fill(value);
  const tones = { light: flat(0.5), codes: flat(0.7) };

  /** Black and white in turns, as another encoder writes it: one bit in a palette, which reads as grey. */
  const chequerboard = async (compressionLevel: number) =>
    sharp(
      Uint8Array.from({ length: 80 * 60 }, (_, i) => 255 * ((i + Math.floor(i / 80)) % 2)),
      { raw: { width: 80, height: 60, channels: 1 } },
    )
      .withMetadata({ density: 508 })
      .png({ palette: true, colours: 2, dither: 0, compressionLevel })
      .toBuffer();

  function write(name: string, bytes: Uint8Array): string {
    const file = join(folder, name);
    writeFileSync(file, bytes);
    return file;
  }

  it("passes a one-bit chequerboard as half light, and as no other tone", async () => {
    const file = write("one-bit.png", await chequerboard(9));
    const output = await readOutput(file);
    expect(problemsOf(output, job, "light", tones)).toEqual([]);
    expect(problemsOf(output, job, "own", tones)).toEqual([]);
    expect(problemsOf(output, job, "palette", tones)).toEqual(["mean tone off by 0.2000"]);
    expect(problemsOf(output, job, "codes", tones)).toEqual([
      "mean tone off by 0.2000",
      "tones of the cells off by 0.2000 rms",
    ]);
    const lighter = { ...tones, light: flat(0.506) };
    expect(problemsOf(output, job, "light", lighter)).toEqual(["mean tone off by 0.0060"]);
    const uneven = { ...tones, light: flat(0.5).map((value, cell) => value + (cell % 2 ? 0.011 : -0.011)) };
    expect(problemsOf(output, job, "light", uneven)).toEqual(["tones of the cells off by 0.0110 rms"]);
  });

  it("finds a wrong size, depth and density", async () => {
    const grey = sharp({ create: { width: 80, height: 61, channels: 3, background: "#808080" } }).greyscale();
    const file = write("grey.png", await grey.withMetadata({ density: 300 }).png().toBuffer());
    expect(problemsOf(await readOutput(file), job, "own", tones)).toEqual([
      "80 × 61 pixels instead of 80 × 60",
      "8 bits a pixel instead of 1",
      "density of 11811 × 11811 pixels a metre instead of 20000",
    ]);
  });

  it("lets nothing be timed that fails it, or that gives other pixels later", async () => {
    const right = write("right.png", await chequerboard(9));
    const inverted = await sharp(await chequerboard(9))
      .negate()
      .png({ palette: true, colours: 2, compressionLevel: 9 })
      .toBuffer();
    const other = write("other.png", inverted);
    const runs = new Map<string, number>();
    const contender = (name: string, tone: Contender["tone"], later: string): Contender => ({
      name,
      tone,
      run: (_, out) => {
        const count = (runs.get(name) ?? 0) + 1;
        runs.set(name, count);
        const bitmap = join(out, "out.png");
        return { bitmap, command: ["cp", count === 1 ? right : later, bitmap] };
      },
    });
    const setting = {
      ...{ photo, expected: tones, runs: 2, quick: true, all: false },
      tools: [],
      gnuTime: undefined,
    };
    const entries = await compare(setting, [
      [contender("right", "light", right), job],
      [contender("wrong", "codes", right), job],
      [contender("unsteady", "light", other), job],
    ]);
    expect(entries.map(({ costs }) => costs.length)).toEqual([2, 0, 0]);
    expect(Object.fromEntries(runs)).toEqual({ right: 3, wrong: 1, unsteady: 2 });
    expect(problemsIn(entries)).toEqual([
      expect.stringMatching(/^wrong, 80 × 60: mean tone off/),
      expect.stringMatching(/^wrong, 80 × 60: tones of the cells off/),
      expect.stringMatching(/^unsteady, 80 × 60: other pixels in round 1/),
    ]);
  });

  it("knows the same pixels again, and others from them", async () => {
    const { checksum } = await readOutput(write("first.png", await chequerboard(9)));
    expect(checksumOfOutput(write("again.png", await chequerboard(9)))).toBe(checksum);
    const inverted = await sharp(await chequerboard(9))
      .negate()
      .png({ palette: true, colours: 2, compressionLevel: 9 })
      .toBuffer();
    expect(checksumOfOutput(write("inverted.png", inverted))).not.toBe(checksum);
  });
});

describe("the statistics", () => {
  it("take the middle of an odd number and the mean of the two middle ones of an even", () => {
    expect(spreadOf([3, 1, 9])).toEqual({ median: 3, min: 1, max: 9 });
    expect(spreadOf([4, 1, 9, 2])).toEqual({ median: 3, min: 1, max: 9 });
  });

  it("fit a line by least squares, and a power law exactly", () => {
    // By hand: means 2 and 3, slope (−1 · −2 + 0 · −1 + 1 · 3) / 2 = 2.5.
    const { intercept, slope } = fitLine([1, 2, 3], [1, 2, 6]);
    expect(intercept).toBeCloseTo(-2, 12);
    expect(slope).toBeCloseTo(2.5, 12);
    expect(fitExponent([1, 10, 100], [3, 3 * 10 ** 0.7, 3 * 10 ** 1.4])).toBeCloseTo(0.7, 12);
  });

  it("correlate ranks as Kendall does", () => {
    const first = [7, 4, 3, 10, 6, 2, 9, 8, 1, 5];
    const second = [5, 7, 3, 10, 1, 9, 6, 2, 8, 4];
    // SciPy 1.17.1, stats.kendalltau.
    expect(rankCorrelation(first, second)).toBeCloseTo(-0.06666666666666667, 12);
    expect(rankCorrelation(second, second)).toBe(1);
  });
});
