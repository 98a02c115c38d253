import { Matrix, solve } from "ml-matrix";
import { medianOf } from "../core/median.js";
import { type CardView, homographyOf, inPicture, onCard, type Point } from "./card-view.js";
import {
  besideSide,
  DARKEST,
  type FrameLook,
  type FrameSide,
  findSide,
  frameSides,
  type SeenSide,
} from "./frame-side.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** Sizes of what locates a card, in mm. */
export interface CardMarks {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly frameMm: number;
  readonly cornerMm: number;
  readonly codePlace: {
    readonly leftMm: number;
    readonly topMm: number;
    readonly widthMm: number;
    readonly heightMm: number;
  };
}

export interface Located {
  readonly view: CardView;
  /** Ln light of a bare surface less that of a solid fill, at the code. */
  readonly contrast: number;
  /** By side: upper, right, lower, left. */
  readonly sides: readonly { readonly strength: number; readonly residualMm: number }[];
}

/** Rounds of search, each nearer than the one before: the code lies in the middle, so its corners say little about the edges. */
const REACHES_MM = [5, 2, 1];

/**
 * Where a card lies in a picture. Starts from the corners of its code, and ends at the middle lines of its frame, which neither blur
 * nor the growth of marks moves.
 *
 * @param codeCorners upper left, upper right, lower right, lower left, as the code is read
 */
export function locate(picture: LightPlane, marks: CardMarks, codeCorners: readonly Point[]): Located {
  const { leftMm, topMm, widthMm, heightMm } = marks.codePlace;
  const ends: readonly Point[] = [
    [leftMm, topMm],
    [leftMm + widthMm, topMm],
    [leftMm + widthMm, topMm + heightMm],
    [leftMm, topMm + heightMm],
  ];
  const middle: Point = [picture.columns / 2, picture.rows / 2];
  const halfDiagonalPx = Math.hypot(...middle);
  let view: CardView = { homography: homographyOf(ends, codeCorners), radial: 0, middle, halfDiagonalPx };
  const contrast = codeContrast(picture, view, marks.codePlace);
  const sides = frameSides(marks.widthMm, marks.heightMm, marks.frameMm, marks.cornerMm);
  const look = (): FrameLook => ({ picture, view, frameMm: marks.frameMm, contrast });
  let strengths: number[] = [];
  for (const [round, reachMm] of REACHES_MM.entries()) {
    const seen = sides.map((side) => findSide(look(), side, reachMm));
    strengths = seen.map(({ strength }) => strength);
    view = fittedView(view, pointsOf(look(), sides, seen), round === REACHES_MM.length - 1);
  }
  const points = pointsOf(look(), sides);
  return {
    view,
    contrast,
    sides: sides.map((each, k) => ({
      strength: strengths[k],
      residualMm: residualOf(
        view,
        points.filter(({ side }) => side === each),
      ),
    })),
  };
}

/** A point of a side's middle line, as it was seen. */
interface SeenPoint {
  readonly side: FrameSide;
  readonly place: Point;
}

const POINTS = 60;
const STEP_MM = 0.05;

/** Points of the frame's middle lines: centres of what stands out round the lines that were found. */
function pointsOf(look: FrameLook, sides: readonly FrameSide[], seen?: readonly SeenSide[]): SeenPoint[] {
  return sides.flatMap((side, k) =>
    Array.from({ length: POINTS }, (_, i) => {
      const share = (i + 0.5) / POINTS;
      const aroundMm = seen ? seen[k].shiftMm + share * seen[k].slantMm : 0;
      const outMm = centreOf(look, side, share, aroundMm);
      return { side, place: inPicture(look.view, besideSide(side, share, outMm)) };
    }),
  );
}

/** The centre of a bar near a place: the mean of the places, weighted by how far each differs from the ends of the window. */
function centreOf(
  { picture, view, frameMm }: FrameLook,
  side: FrameSide,
  share: number,
  aroundMm: number,
): number {
  let centre = aroundMm;
  const half = Math.round(frameMm / STEP_MM);
  for (let round = 0; round < 3; round++) {
    const light = Array.from({ length: 2 * half + 1 }, (_, k) =>
      lightAt(picture, inPicture(view, besideSide(side, share, centre + (k - half) * STEP_MM))),
    );
    const surface = (light[0] + light[light.length - 1]) / 2;
    let [weights, moment] = [0, 0];
    light.forEach((each, k) => {
      weights += each - surface;
      moment += (each - surface) * (k - half) * STEP_MM;
    });
    if (!(Math.abs(weights) > 0)) return centre;
    const step = moment / weights;
    centre += Math.min(frameMm / 2, Math.max(-frameMm / 2, step));
  }
  return centre;
}

/** How far a seen point lies outwards of its side. */
function outOf(view: CardView, { side, place }: SeenPoint): number {
  const [x, y] = onCard(view, place);
  return (x - side.from[0]) * side.outwards[0] + (y - side.from[1]) * side.outwards[1];
}

const ITERATIONS = 8;

/** Residuals beyond this many medians count as much less: a spoilt corner or a hair on the frame. */
const ROBUST_MEDIANS = 3;

/** The view in which the seen points lie on their sides, by Gauss–Newton with weights that forget outliers. */
function fittedView(start: CardView, points: readonly SeenPoint[], bends: boolean): CardView {
  let view = start;
  for (let k = 0; k < ITERATIONS; k++) {
    const residuals = points.map((point) => outOf(view, point));
    const scale = 1.5 * medianOf(residuals.map(Math.abs)) + 1e-6;
    const weights = residuals.map((each) => 1 / Math.max(1, Math.abs(each) / (ROBUST_MEDIANS * scale)) ** 2);
    const parameters = parametersOf(view, bends);
    const slopes = parameters.map(({ step, moved }) =>
      points.map((point, i) => (outOf(moved, point) - residuals[i]) / step),
    );
    const rows = points.map((_, i) => slopes.map((slope) => Math.sqrt(weights[i]) * slope[i]));
    const right = residuals.map((each, i) => [-Math.sqrt(weights[i]) * each]);
    const change = solve(new Matrix(rows), new Matrix(right), true).getColumn(0);
    view = movedBy(view, change, bends);
  }
  return view;
}

interface Parameter {
  readonly step: number;
  readonly moved: CardView;
}

/** The numbers of a view that are fitted: eight of the homography, relative to their size, and the bend. */
function parametersOf(view: CardView, bends: boolean): Parameter[] {
  const count = bends ? 9 : 8;
  return Array.from({ length: count }, (_, k) => {
    const step = 1e-5;
    const change = new Array<number>(count).fill(0);
    change[k] = step;
    return { step, moved: movedBy(view, change, bends) };
  });
}

/** Sizes of the eight numbers: pixels per mm, pixels, and 1/mm. */
const SIZES = [1, 1, 100, 1, 1, 100, 1e-3, 1e-3] as const;

function movedBy(view: CardView, change: readonly number[], bends: boolean): CardView {
  return {
    ...view,
    homography: view.homography.map((each, k) => (k < 8 ? each + change[k] * SIZES[k] : each)),
    radial: bends ? view.radial + change[8] : view.radial,
  };
}

const residualOf = (view: CardView, points: readonly SeenPoint[]): number =>
  Math.sqrt(points.reduce((sum, point) => sum + outOf(view, point) ** 2, 0) / points.length);

/** Ln light of the bare border of the code less that of the squares in its corners, which are solid in the middle. */
function codeContrast(picture: LightPlane, view: CardView, place: CardMarks["codePlace"]): number {
  const { leftMm, topMm, widthMm } = place;
  // The middle of a corner's square lies 3.5 modules in; its light ring 1.5 (ISO/IEC 18004).
  const module = widthMm / CODE_MODULES;
  const at = (x: number, y: number): number =>
    lightAt(picture, inPicture(view, [leftMm + x * module, topMm + y * module]));
  const far = CODE_MODULES - 3.5;
  const solid = medianOf([at(3.5, 3.5), at(far, 3.5), at(3.5, far)]);
  const bare = medianOf([
    at(-1.5, 3.5),
    at(3.5, -1.5),
    at(far, -1.5),
    at(-1.5, far),
    at(CODE_MODULES + 1.5, 3.5),
  ]);
  return Math.log(Math.max(DARKEST, bare) / Math.max(DARKEST, solid));
}

/** Modules to a side of the code. */
const CODE_MODULES = 25;
