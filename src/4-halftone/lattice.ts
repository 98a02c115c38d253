/** A vector on the pixel grid. */
export type Step = readonly [x: number, y: number];

/** The two sides of a cell. They span the lattice of all cells. */
export type Cell = readonly [a: Step, b: Step];

export const cross = (a: Step, b: Step): number => a[0] * b[1] - a[1] * b[0];

/** The vector p·a + q·b. */
export const vectorOf = ([p, q]: Step, [a, b]: Cell): Step => [p * a[0] + q * b[0], p * a[1] + q * b[1]];

/** The steps p, q that lead to a vector: p·a + q·b. */
export const stepsTo = (vector: Step, [a, b]: Cell): Step => [
  cross(vector, b) / cross(a, b),
  cross(a, vector) / cross(a, b),
];

/** The cell whose steps p, q lead to each of two vectors. */
export function cellFrom(vectors: Cell, [first, second]: readonly [pq: Step, rs: Step]): Cell {
  const determinant = cross(first, second);
  const solve = (k: 0 | 1): Step => [
    (vectors[0][k] * second[1] - vectors[1][k] * first[1]) / determinant,
    (vectors[1][k] * first[0] - vectors[0][k] * second[0]) / determinant,
  ];
  const [x, y] = [solve(0), solve(1)];
  return [
    [x[0], y[0]],
    [x[1], y[1]],
  ];
}

/**
 * The cosine spot function (cos πu + cos πv)/2 of ISO 32000-1, 10.5.5, at a point: 1 at the centre of a dot, −1 at the centre of
 * a hole. Dots are centred where the lattice's steps are whole.
 */
export function spotFunction(point: Step, cell: Cell): number {
  const [u, v] = stepsTo(point, cell);
  return (Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v)) / 2;
}
