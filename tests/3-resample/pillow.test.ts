import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { resample } from "../../src/3-resample/resample.js";
import { denseData, plane } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import { hasTool } from "../support/tool.js";

// The system's interpreter, because distributions package Pillow for it and not for a private one.
const python = "/usr/bin/python3";
const script = fileURLToPath(new URL("pillow_resize.py", import.meta.url));

const columns = 61;
const rows = 47;

// Fractions of a power of two, since Pillow keeps the box in single precision. No sample lies on the edge of a box
// filter (an even size would put one there on the whole picture), since Pillow gives it to one side.
const boxes = [
  [0, 0, columns, rows],
  [3.328125, 1.203125, 50.890625, 44.453125],
  [7, 5, 40, 28],
];
const sizes = [
  [61, 47],
  [33, 23],
  [13, 9],
  [3, 5],
  [100, 41],
  [131, 97],
  [1, 1],
];

// Both round to single precision once per axis: 6e-8 at most each time for values under 1.
describe("against Pillow", () => {
  const filters = ["box", "triangle", "catmull-rom", "lanczos3"] as const;
  it.skipIf(!hasTool(python, ["-c", "import PIL"]))(
    `agrees within 5e-7 (${python} with PIL)`,
    () => {
      const random = seededRandom(20);
      // Between 0.3 and 0.7, so that overshoot stays within 0..1 and clamping plays no part.
      const pixels = Float32Array.from({ length: rows * columns }, () => 0.3 + 0.4 * random());
      const jobs = filters.flatMap((filter) =>
        boxes.flatMap((box) => sizes.map(([w, h]) => ({ filter, columns: w, rows: h, box }))),
      );
      const input = JSON.stringify({ columns, rows, pixels: [...pixels], jobs });
      const { status, stdout, stderr } = spawnSync(python, [script], {
        input,
        encoding: "utf8",
        maxBuffer: 1 << 28,
      });
      expect(stderr).toBe("");
      expect(status).toBe(0);
      const references = JSON.parse(stdout) as number[][];
      expect(references.length).toBe(jobs.length);

      const source = plane("luminance", pixels, rows, columns);
      jobs.forEach((job, n) => {
        const [left, top, right, bottom] = job.box;
        const window = { left, top, width: right - left, height: bottom - top };
        const result = denseData(resample(source, window, job.columns, job.rows, job.filter));
        const reference = references[n];
        expect(result.length).toBe(reference.length);
        expect(Math.max(...reference)).toBeLessThanOrEqual(1);
        expect(Math.min(...reference)).toBeGreaterThanOrEqual(0);
        const worst = result.reduce((most, value, i) => Math.max(most, Math.abs(value - reference[i])), 0);
        expect(worst, JSON.stringify(job)).toBeLessThan(5e-7);
      });
    },
    30_000,
  );
});
