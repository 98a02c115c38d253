/**
 * Engraved widths of bars 0.2 to 3 mm wide on a steep material, black on white and white on black, in three directions:
 * `npm run bench:edges` (about four minutes). Each cell is the largest error of a width in mm, simulated by brute force
 * (tests/reference/edge_widths.py): with edges corrected / with edges at the pixels of the drawing.
 */

import { type BarJob, barDrawing, barsOf, engraveBars, measureBars } from "../tests/pipeline/bars.js";
import { steepPoints } from "../tests/support/materials.js";

const LINES_PER_INCH = [254, 508, 1016];
const SPOTS_MM = [0.08, 0.115, 0.2];
const ANGLES_DEG = [0, 90, 45];
const sheet = barsOf([0.2, 0.3, 0.5, 1, 2, 3], ANGLES_DEG);

const DRAWINGS = [
  { name: "black", ink: "#000", paper: "#fff", engraved: 1 },
  { name: "white", ink: "#fff", paper: "#000", engraved: 0 },
] as const;

/** Largest error of a width by direction, in mm. */
async function errorsMm(job: BarJob, { ink, paper, engraved }: (typeof DRAWINGS)[number]): Promise<number[]> {
  const piece = await engraveBars(barDrawing(sheet, ink, paper), sheet, job);
  const found = measureBars(piece, sheet, job, engraved);
  return ANGLES_DEG.map((angle) =>
    Math.max(
      ...sheet.bars.flatMap(({ angleDeg, widthMm }, k) =>
        angleDeg === angle ? [Math.abs(found[k].widthMm - widthMm)] : [],
      ),
    ),
  );
}

const heads = DRAWINGS.flatMap(({ name }) => ANGLES_DEG.map((angle) => `${name}, ${angle}°`));
console.log(`| lines per inch | spot, mm | ${heads.join(" | ")} | allowed |`);
console.log(`|---|---|${heads.map(() => "---|").join("")}---|`);
for (const linesPerInch of LINES_PER_INCH) {
  const allowedMm = Math.max(0.01, 25.4 / linesPerInch / 4);
  for (const spotMm of SPOTS_MM) {
    const job: BarJob = { response: steepPoints, linesPerInch, spotMm };
    const cells: string[] = [];
    for (const drawing of DRAWINGS) {
      const placed = await errorsMm(job, drawing);
      const left = await errorsMm({ ...job, more: { method: "threshold" } }, drawing);
      cells.push(...placed.map((mm, k) => `${mm.toFixed(3)} / ${left[k].toFixed(3)}`));
    }
    console.log(`| ${linesPerInch} | ${spotMm} | ${cells.join(" | ")} | ${allowedMm.toFixed(4)} |`);
  }
}
