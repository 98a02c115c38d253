import { EDGE_RANKS, edgeRank } from "../core/edge-order.js";
import type { Pitch } from "../core/plane.js";
import { doseBetween, engraveTestPiece, markEnd, type TestBeam, type TestDose } from "./mark-ends.js";

/** Measured length of the edge, in pixels: enough periods of the pattern to average over the pixel positions. */
const LENGTH_PX = 4 * EDGE_RANKS;

/** Tested places of the edge between pixels, and normals per pixel of its length. */
const PLACES = 5;
const NORMALS_PER_PX = 4;

/** Steps of a pixel along a normal. */
const STEPS_PER_PX = 16;

/** The mark must end within this many pixels of the drawn edge, plus the reach of the spot. */
const BESIDE_PX = 3;

/** A normal in mm, both components positive. */
export interface Normal {
  readonly x: number;
  readonly y: number;
}

/** Whether the edge is at the ends of runs, not between lines. */
export const isVertical = (normal: Normal, pitch: Pitch): boolean =>
  normal.x * pitch.alongMm >= normal.y * pitch.acrossMm;

/**
 * Distance of the mark of a slanted edge outside the drawn edge, in mm: the outermost marked place, as a mean over normals and over
 * places of the edge between pixels. Negative for inside.
 *
 * @param normal unit vector out of the shape
 * @param thresholdMm by rank: a pixel burns if its centre lies at least this far inside
 * @param lateMm shift of the mark of a line along the line, subtracted from the result
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

/** A piece around the middle of a slanted edge, and its normals. */
interface SlantedField {
  readonly normal: Normal;
  readonly pitch: Pitch;
  readonly columns: number;
  readonly rows: number;
  /** Length of normals to either side of the edge, and half the length of edge that they cover. */
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
  // The piece holds the slanted rectangle of the normals, and all pixels whose dose reaches it.
  const columns = 2 * Math.ceil((halfLengthMm * normal.y + outMm * normal.x + reachMm) / pitch.alongMm) + 2;
  const rows = 2 * Math.ceil((halfLengthMm * normal.x + outMm * normal.y + reachMm) / pitch.acrossMm) + 2;
  const profileSteps = Math.ceil((2 * outMm) / stepMm);
  return { normal, pitch, columns, rows, outMm, halfLengthMm, stepMm, profileSteps };
}

/** Engraves the shape, its edge `offsetMm` beyond the middle of the piece. */
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

/** Dose along one normal, from outside inwards. */
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
