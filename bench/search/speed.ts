/**
 * Seconds of a search, after `npm run build`: `npx tsx bench/search/speed.ts [--pixels 2000x1500] [--threads 2,1] [--aims nominal,robust]`.
 * Threads start from the built package only.
 */
import { readFileSync } from "node:fs";
import { parseArgs } from "node:util";

const { prepareTo } = (await import(
  new URL("../../dist/index.js", import.meta.url).href
)) as typeof import("../../src/index.js");

const { values: asked } = parseArgs({
  options: {
    pixels: { type: "string", default: "2000x1500" },
    threads: { type: "string", default: "2,1" },
    aims: { type: "string", default: "nominal,robust" },
  },
});
const LINES_PER_INCH = 508;
const [columns, rows] = asked.pixels.split("x").map(Number);
const photo = readFileSync(new URL("../../sample-images/harbour.jpg", import.meta.url));
const materials = { nominal: "maple", robust: "coated-steel" } as const;

console.log(
  "| aim | threads | seconds | µs a pixel | passes | error at the settings / expected | process, MB |",
);
console.log("|---|---|---|---|---|---|---|");
for (const aim of ["nominal", "robust"] as const) {
  if (!asked.aims.includes(aim)) continue;
  for (const threads of asked.threads.split(",").map(Number)) {
    const begun: { readonly stage: string; readonly ms: number }[] = [];
    const report = await prepareTo(
      photo,
      {
        ...{ widthMm: (columns * 25.4) / LINES_PER_INCH, heightMm: (rows * 25.4) / LINES_PER_INCH },
        ...{ linesPerInch: LINES_PER_INCH, spotMm: 0.115, material: materials[aim] },
        ...{ method: "burn-search", aim },
      },
      { burn: () => {} },
      {
        threads,
        onProgress: (stage, share) => {
          if (share === undefined) begun.push({ stage, ms: performance.now() });
        },
      },
    );
    const at = begun.findIndex(({ stage }) => stage === "search");
    const seconds = (begun[at + 1].ms - begun[at].ms) / 1000;
    const { job, prediction } = report;
    const errors = [prediction?.visualErrorRms, prediction?.expectedVisualError];
    const cells = [
      ...[aim, threads, seconds.toFixed(1), ((1e6 * seconds) / (job.columns * job.rows)).toFixed(1)],
      ...[job.search?.passes, errors.map((error) => error?.toFixed(3)).join(" / ")],
      Math.round(process.memoryUsage().rss / 1e6),
    ];
    console.log(`| ${cells.join(" | ")} |`);
  }
}
