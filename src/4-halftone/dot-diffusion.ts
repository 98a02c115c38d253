import type { ClassMatrix } from "./class-matrices.js";
import type { PlaneHalftone } from "./method.js";

/** Shares by neighbour: 2 to an edge neighbour, 1 to a corner neighbour. */
const NEIGHBOURS = [
  [-1, -1, 1],
  [0, -1, 2],
  [1, -1, 1],
  [-1, 0, 2],
  [1, 0, 2],
  [-1, 1, 1],
  [0, 1, 2],
  [1, 1, 1],
] as const;

/**
 * Dot diffusion: pixels are decided in the order of a class matrix that tiles the plane, and each hands its error to those
 * of its eight neighbours that come later. A pixel with no later neighbour drops its error.
 * D. E. Knuth, "Digital halftones by dot diffusion", ACM Trans. Graphics 6(4) (1987), 245–273.
 */
export function diffuseDots(classes: ClassMatrix): PlaneHalftone {
  const side = classes.length;
  const cells = [...classes.flat().keys()].sort(
    (a, b) => classes[Math.floor(a / side)][a % side] - classes[Math.floor(b / side)][b % side],
  );
  const later = cells.map((cell) => laterNeighbours(classes, cell % side, Math.floor(cell / side)));

  return (fractions, columns, rows, bits) => {
    const wanted = Float64Array.from(fractions);
    for (let k = 0; k < cells.length; k++) {
      const cellX = cells[k] % side;
      const cellY = Math.floor(cells[k] / side);
      const { dx, dy, share } = later[k];
      for (let y = cellY; y < rows; y += side) {
        for (let x = cellX; x < columns; x += side) {
          const i = y * columns + x;
          const bit = wanted[i] >= 0.5 ? 1 : 0;
          bits[i] = bit;
          const error = wanted[i] - bit;
          for (let n = 0; n < share.length; n++) {
            const toX = x + dx[n];
            const toY = y + dy[n];
            if (toX >= 0 && toX < columns && toY >= 0 && toY < rows)
              wanted[toY * columns + toX] += error * share[n];
          }
        }
      }
    }
  };
}

function laterNeighbours(classes: ClassMatrix, x: number, y: number) {
  const side = classes.length;
  const later = NEIGHBOURS.filter(
    ([dx, dy]) => classes[(y + dy + side) % side][(x + dx + side) % side] > classes[y][x],
  );
  const sum = later.reduce((total, [, , weight]) => total + weight, 0);
  return {
    dx: later.map(([dx]) => dx),
    dy: later.map(([, dy]) => dy),
    share: later.map(([, , weight]) => weight / sum),
  };
}
