import { EDGE_RANKS, edgeRank } from "../core/edge-order.js";
import type { Pitch } from "../core/plane.js";
import { doseBetween, engraveTestPiece, markEnd, type TestBeam, type TestDose } from "./mark-ends.js";

/** Length of edge that is looked at, in pixels: periods of the pattern enough to even out where the pixels fall. */
const LENGTH_PX = 4 * EDGE_RANKS;

/** Places of the edge between pixels that are tried, and normals to each pixel of its length. */
const PLACES = 5;
const NORMALS_PER_PX = 4;

/** Steps of a pixel along a normal. */
const STEPS_PER_PX = 16;

/** Pixels to either side of the drawn edge, beside the spot's reach, within which its mark must end. */
const BESIDE_PX = 3;

/** A normal in mm, both components positive. */
export interface Normal {
  readonly x: number;
  readonly y: number;
}

/** Whether an edge ends the runs along the lines, rather than lying between lines. */
export const isVertical = (normal: Normal, pitch: Pitch): boolean =>
  normal.x * pitch.alongMm >= normal.y * pitch.acrossMm;

/**
 * How far the mark of a slanted shape's edge lies outside the drawn edge, in mm: mean over normals of the outermost place that
 * is marked, and over places of the edge between pixels. Negative for inside.
 *
 * @param normal unit vector out of the shape
 * @param thresholdMm by rank: pixels whose centres lie at least so far inside burn
 * @param lateMm what the mark of a line lies off along it, to be left out
 */
export function slantedGrowthMm(
  beam: TestBeam,
  normal: Normal,
  thresholdMm: readonly number[],
  lateMm: number,
): number {
  const { pitch } = beam;
  const field = slantedField(beam, normal);
  const profile = new Float32Array(field.profileSteps);
  const placeMm = isVertical(normal, pitch) ? pitch.alongMm * normal.x : pitch.acrossMm * normal.y;
  const normals = LENGTH_PX * NORMALS_PER_PX;
  let sum = 0;
  let marked = 0;
  for (let place = 0; place < PLACES; place++) {
    const offsetMm = (place / PLACES) * placeMm;
    const test = engraveSlanted(beam, field, offsetMm, thresholdMm);
    for (let i = 0; i < normals; i++) {
      const alongEdgeMm = ((i + 0.5) / normals - 0.5) * 2 * field.halfLengthMm;
      fillProfile(profile, test, field, offsetMm, alongEdgeMm);
      const end = markEnd(profile, 0, 1, profile.length, beam.halfDose);
      if (end === undefined) continue;
      sum += field.outMm - end * field.stepMm;
      marked++;
    }
  }
  return sum / marked - lateMm * normal.x;
}

/** A piece about the middle of a slanted edge, and where its normals run. */
interface SlantedField {
  readonly normal: Normal;
  readonly pitch: Pitch;
  readonly columns: number;
  readonly rows: number;
  /** How far normals run to either side of the edge, and half the length of edge that they cover. */
  readonly outMm: number;
  readonly halfLengthMm: number;
  /** From one place on a normal to the next. */
  readonly stepMm: number;
  readonly profileSteps: number;
}

function slantedField({ plan, pitch }: TestBeam, normal: Normal): SlantedField {
  const pitchMm = Math.max(pitch.alongMm, pitch.acrossMm);
  const stepMm = Math.min(pitch.alongMm, pitch.acrossMm) / STEPS_PER_PX;
  const reachMm = Math.max(plan.evenLines.reach * pitch.alongMm, plan.across.reach * pitch.acrossMm);
  const outMm = reachMm / 2 + BESIDE_PX * pitchMm;
  const halfLengthMm = (LENGTH_PX / 2) * pitchMm;
  // Room about the middle for the slanted rectangle that the normals cover, and for all that reaches it.
  const columns = 2 * Math.ceil((halfLengthMm * normal.y + outMm * normal.x + reachMm) / pitch.alongMm) + 2;
  const rows = 2 * Math.ceil((halfLengthMm * normal.x + outMm * normal.y + reachMm) / pitch.acrossMm) + 2;
  const profileSteps = Math.ceil((2 * outMm) / stepMm);
  return { normal, pitch, columns, rows, outMm, halfLengthMm, stepMm, profileSteps };
}

/** Engrave the shape, its edge `offsetMm` beyond the middle of the piece. */
function engraveSlanted(
  beam: TestBeam,
  { normal, pitch, columns, rows }: SlantedField,
  offsetMm: number,
  thresholdMm: readonly number[],
): TestDose {
  const vertical = isVertical(normal, pitch);
  const bits = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const xMm = (x + 0.5 - columns / 2) * pitch.alongMm;
      const yMm = (y + 0.5 - rows / 2) * pitch.acrossMm;
      const insideMm = offsetMm - xMm * normal.x - yMm * normal.y;
      bits[y * columns + x] = insideMm >= thresholdMm[edgeRank(x, y, vertical)] ? 1 : 0;
    }
  }
  return engraveTestPiece(beam, { columns, rows, bits, left: 0, right: columns, top: 0, bottom: rows });
}

/** Dose along one normal, from the outside in. */
function fillProfile(
  profile: Float32Array,
  test: TestDose,
  { normal, pitch, columns, rows, outMm, stepMm }: SlantedField,
  offsetMm: number,
  alongEdgeMm: number,
): void {
  for (let k = 0; k < profile.length; k++) {
    const fromEdgeMm = offsetMm + outMm - k * stepMm;
    const xMm = fromEdgeMm * normal.x - alongEdgeMm * normal.y;
    const yMm = fromEdgeMm * normal.y + alongEdgeMm * normal.x;
    profile[k] = doseBetween(test, xMm / pitch.alongMm + columns / 2, yMm / pitch.acrossMm + rows / 2);
  }
}
