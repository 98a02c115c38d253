import { EDGE_RANKS, edgeRank } from "../core/edge-order.js";
import { engraveTestPiece, markEnd, type TestBeam } from "./mark-ends.js";

/** The side of the shape with the edge: right or left ends of runs, or the last line. */
export type EdgeSide = "right" | "left" | "below";

/**
 * End of the mark of a large shape, in pixels past the centres of its last whole row of pixels, if k = 0..6 of seven pixels of the
 * next row also burn. Mean over the marked places of one period of the pattern.
 */
export const edgeSteps = (beam: TestBeam, side: EdgeSide): number[] =>
  Array.from({ length: EDGE_RANKS }, (_, rank) => edgeEnd(beam, side, rank));

function edgeEnd(beam: TestBeam, side: EdgeSide, rank: number): number {
  const { plan, halfDose } = beam;
  const vertical = side !== "below";
  const [reach, breadth] = vertical
    ? [plan.evenLines.reach + 1, plan.across.reach]
    : [plan.across.reach + 1, plan.evenLines.reach];
  // Rows of pixels along the edge, counted inwards. Rows before `partial` stay bare.
  const deep = 2 * reach + 2;
  const wide = 2 * breadth + EDGE_RANKS;
  const partial = reach;
  const [columns, rows] = vertical ? [deep, wide] : [wide, deep];
  const bits = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const depth = side === "left" ? x : side === "right" ? columns - 1 - x : rows - 1 - y;
      const burns = depth > partial || (depth === partial && edgeRank(x, y, vertical) < rank);
      bits[y * columns + x] = burns ? 1 : 0;
    }
  }
  const inner = { left: breadth, right: breadth + EDGE_RANKS, top: 0, bottom: rows };
  const part = vertical ? { left: 0, right: columns, top: inner.left, bottom: inner.right } : inner;
  const test = engraveTestPiece(beam, { columns, rows, bits, ...part });
  const { dose, samplesAlong, samplesAcross } = test;
  const samples = vertical ? samplesAlong : samplesAcross;
  const lines = vertical ? test.rows : test.columns;
  const count = vertical ? test.columns : test.rows;
  let sum = 0;
  let marked = 0;
  for (let i = 0; i < lines; i++) {
    const start = vertical ? i * count + (side === "left" ? 0 : count - 1) : (count - 1) * lines + i;
    const step = vertical ? (side === "left" ? 1 : -1) : -lines;
    const end = markEnd(dose, start, step, count, halfDose);
    if (end === undefined) continue;
    // From samples to pixels, and from the outer edge of the piece to the centre of the last whole row.
    sum += partial + 1.5 - (end + 0.5) / samples;
    marked++;
  }
  return sum / marked;
}
