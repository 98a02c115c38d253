/** Length of the part of pixel p that lies between two edges. */
const within = (p: number, from: number, to: number) => Math.max(0, Math.min(p + 1, to) - Math.max(p, from));

/** Means in side-by-side apertures, by a loop over every pixel, each counted by the part that lies within. */
export function directApertureMeans(
  plane: ArrayLike<number>,
  columns: number,
  rows: number,
  along: number,
  across: number,
): number[] {
  const means: number[] = [];
  for (let j = 0; (j + 1) * across <= rows + 1e-9; j++) {
    for (let i = 0; (i + 1) * along <= columns + 1e-9; i++) {
      let sum = 0;
      for (let y = Math.floor(j * across); y < Math.min(rows, (j + 1) * across); y++) {
        for (let x = Math.floor(i * along); x < Math.min(columns, (i + 1) * along); x++) {
          const share = within(x, i * along, (i + 1) * along) * within(y, j * across, (j + 1) * across);
          sum += share * plane[y * columns + x];
        }
      }
      means.push(sum / (along * across));
    }
  }
  return means;
}
