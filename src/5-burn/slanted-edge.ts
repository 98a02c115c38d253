import { EDGE_LEVELS, edgeLevel } from "../core/edge-order.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { engraveTestPiece, markEnd } from "./mark-ends.js";

/** Lines of pixels across the edge that are looked at: periods of the pattern enough to even out where the pixels fall. */
const LINES = 4 * EDGE_LEVELS;

/** Places of the edge between pixels that are tried. */
const PLACES = 5;

/**
 * How far the mark of a slanted shape's edge lies outside the drawn edge, in mm, on average over places; negative for inside.
 *
 * @param normal unit vector out of the shape, in mm along and across, both positive
 * @param thresholdMm by level: pixels whose centres lie at least so far inside burn
 * @param lateMm what the mark of a line lies off along it, to be left out
 */
export function slantedGrowthMm(
  memory: KernelMemory,
  plan: ExposurePlan,
  pitch: Pitch,
  halfDose: number,
  normal: { readonly x: number; readonly y: number },
  thresholdMm: readonly number[],
  lateMm: number,
): number {
  const upright = normal.x >= normal.y;
  const { reach: reachAlong } = plan.evenLines;
  const { reach: reachAcross } = plan.across;
  // As the edge goes on by LINES pixels, it moves by so many sideways.
  const [moved, side] = upright
    ? [(LINES * pitch.acrossMm * normal.y) / normal.x / pitch.alongMm, reachAlong + 4]
    : [(LINES * pitch.alongMm * normal.x) / normal.y / pitch.acrossMm, reachAcross + 4];
  const deep = Math.ceil(moved) + 4 * side;
  const margin = upright ? reachAcross : reachAlong;
  const wide = LINES + 2 * margin;
  const [columns, rows] = upright ? [deep, wide] : [wide, deep];
  const part = upright
    ? { left: 0, right: columns, top: margin, bottom: margin + LINES }
    : { left: margin, right: margin + LINES, top: 0, bottom: rows };
  let sum = 0;
  for (let place = 0; place < PLACES; place++) {
    const offsetMm = (place / PLACES) * (upright ? pitch.alongMm * normal.x : pitch.acrossMm * normal.y);
    const outsideMm = (x: number, y: number): number =>
      (x - (columns - 1) / 2) * pitch.alongMm * normal.x +
      (y - (rows - 1) / 2) * pitch.acrossMm * normal.y -
      offsetMm;
    const bits = new Uint8Array(columns * rows);
    for (let y = 0; y < rows; y++) {
      for (let x = 0; x < columns; x++) {
        bits[y * columns + x] = -outsideMm(x, y) >= thresholdMm[edgeLevel(x, y, upright)] ? 1 : 0;
      }
    }
    const test = engraveTestPiece(memory, plan, { columns, rows, bits, ...part });
    const { dose, samplesAlong, samplesAcross } = test;
    let placeSum = 0;
    let marked = 0;
    for (let i = 0; i < (upright ? test.rows : test.columns); i++) {
      const [start, step, count] = upright
        ? [(i + 1) * test.columns - 1, -1, test.columns]
        : [(test.rows - 1) * test.columns + i, -test.columns, test.rows];
      const end = markEnd(dose, start, step, count, halfDose);
      if (end === undefined) continue;
      const inner = count - 1 - end;
      const [sampleX, sampleY] = upright ? [inner, i] : [i, inner];
      placeSum += outsideMm(
        part.left + (sampleX + 0.5) / samplesAlong - 0.5,
        part.top + (sampleY + 0.5) / samplesAcross - 0.5,
      );
      marked++;
    }
    sum += placeSum / marked;
  }
  return sum / PLACES - lateMm * normal.x;
}
