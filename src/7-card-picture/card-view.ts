import { Matrix, solve } from "ml-matrix";

/** A point in mm on the card, or in pixels of the picture; pixel k is centred on k + ½. */
export type Point = readonly [x: number, y: number];

/** How a card lies in a picture: eight numbers of a homography, and how far the lens bends straight lines. */
export interface CardView {
  /** From mm on the card to straight pixels: rows of a matrix of 3 × 3 whose last number is 1. */
  readonly homography: readonly number[];
  /** Change of the distance from the middle of the picture, at half its diagonal, as a share. */
  readonly radial: number;
  /** The middle of the picture, and half its diagonal, in pixels. */
  readonly middle: Point;
  readonly halfDiagonalPx: number;
}

/** The homography that takes four or more points to others, by least squares. */
export function homographyOf(from: readonly Point[], to: readonly Point[]): number[] {
  const rows = from.flatMap(([x, y], k) => {
    const [u, v] = to[k];
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y],
      [0, 0, 0, x, y, 1, -v * x, -v * y],
    ];
  });
  const right = to.flatMap(([u, v]) => [[u], [v]]);
  return [...solve(new Matrix(rows), new Matrix(right)).getColumn(0), 1];
}

/** A place in the picture of a point on the card. */
export function inPicture(view: CardView, [x, y]: Point): Point {
  const [a, b, c, d, e, f, g, h, i] = view.homography;
  const w = g * x + h * y + i;
  return bent(view, [(a * x + b * y + c) / w, (d * x + e * y + f) / w]);
}

/** The reverse of `inPicture`. */
export function onCard(view: CardView, place: Point): Point {
  const [u, v] = straight(view, place);
  const [a, b, c, d, e, f, g, h, i] = view.homography;
  // Two linear equations for x and y.
  const [p, q, r] = [a - g * u, b - h * u, i * u - c];
  const [s, t, w] = [d - g * v, e - h * v, i * v - f];
  const determinant = p * t - q * s;
  return [(r * t - q * w) / determinant, (p * w - r * s) / determinant];
}

/** Share by which a point lies farther from the middle than a straight ray. */
function bendAt({ radial, middle, halfDiagonalPx }: CardView, [u, v]: Point): number {
  const distance = Math.hypot(u - middle[0], v - middle[1]) / halfDiagonalPx;
  return 1 + radial * distance * distance;
}

/** Rounds of a fixed-point search. Bends of a few per cent settle to a thousandth of a pixel. */
const ROUNDS = 6;

function bent(view: CardView, ray: Point): Point {
  const { middle } = view;
  if (view.radial === 0) return ray;
  let place = ray;
  for (let k = 0; k < ROUNDS; k++) {
    const bend = bendAt(view, place);
    place = [middle[0] + (ray[0] - middle[0]) * bend, middle[1] + (ray[1] - middle[1]) * bend];
  }
  return place;
}

function straight(view: CardView, place: Point): Point {
  const { middle } = view;
  const bend = bendAt(view, place);
  return [middle[0] + (place[0] - middle[0]) / bend, middle[1] + (place[1] - middle[1]) / bend];
}
