import { expect, it } from "vitest";
import {
  type CardView,
  homographyOf,
  inPicture,
  onCard,
  type Point,
} from "../../src/7-card-picture/card-view.js";
import { evenLight } from "../../src/7-card-picture/even-light.js";
import { seededRandom } from "../../src/core/random.js";

const square: readonly Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

// P. S. Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), p. 20: the square to a quadrilateral in closed form.
function heckbert([[x0, y0], [x1, y1], [x2, y2], [x3, y3]]: readonly Point[]): number[] {
  const [dx1, dx2, sx] = [x1 - x2, x3 - x2, x0 - x1 + x2 - x3];
  const [dy1, dy2, sy] = [y1 - y2, y3 - y2, y0 - y1 + y2 - y3];
  const d = dx1 * dy2 - dx2 * dy1;
  const [g, h] = [(sx * dy2 - dx2 * sy) / d, (dx1 * sy - sx * dy1) / d];
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
}

it("a homography takes four points to four others, as the closed form does", () => {
  const corners: readonly Point[] = [
    [120, 80],
    [910, 140],
    [870, 700],
    [60, 610],
  ];
  const found = homographyOf(square, corners);
  heckbert(corners).forEach((each, k) => {
    expect(found[k]).toBeCloseTo(each, 6);
  });
});

it("a place in the picture and its point on the card belong together, bent lines too", () => {
  const random = seededRandom(3);
  const homography = [11, 0.7, 200, -0.4, 10.5, 150, 4e-4, -2e-4, 1];
  for (const radial of [0, -0.05, 0.04]) {
    const view: CardView = { homography, radial, middle: [800, 600], halfDiagonalPx: 1000 };
    for (let k = 0; k < 50; k++) {
      const point: Point = [80 * random(), 60 * random()];
      const back = onCard(view, inPicture(view, point));
      expect(Math.hypot(back[0] - point[0], back[1] - point[1])).toBeLessThan(0.002);
    }
  }
});

it("light is made even by references, a few spoilt ones among them", () => {
  const random = seededRandom(5);
  const light = (x: number, y: number) => 0.5 * Math.exp(0.3 * x - 0.2 * y + 0.1 * x * y - 0.05 * x * x * x);
  const references = Array.from({ length: 44 }, (_, k) => {
    const [x, y] = [2 * random() - 1, 2 * random() - 1];
    const isSolid = k % 2 === 1;
    const spoilt = k % 11 === 0 ? 0.6 : 1;
    return { x, y, isSolid, light: light(x, y) * (isSolid ? 0.2 : 1) * spoilt };
  });
  const even = evenLight(references);
  expect(even.solidOverBare).toBeCloseTo(0.2, 2);
  for (const [x, y] of [
    [0, 0],
    [0.7, -0.6],
    [-0.8, 0.8],
  ]) {
    expect(even.bareAt(x, y) / light(x, y)).toBeCloseTo(1, 1.5);
  }
});
