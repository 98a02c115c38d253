/** How a bitmap looks about each column boundary, in several respects; index x is the boundary of columns x − 1 and x. */
export interface SeamStatistics {
  /** Each [columns]. */
  readonly [respect: string]: Float64Array;
}

/**
 * Tone and texture across every boundary between columns, the last and the first included: the step in the mean, how often
 * neighbours differ (straight, and on either diagonal), and how much the count of dots varies from cell to cell in cells of
 * 4 and of 8 pixels astride the boundary.
 *
 * @param bits row-major, closed
 */
export function seamStatistics(bits: Uint8Array, columns: number): SeamStatistics {
  const rows = bits.length / columns;
  const at = (x: number, y: number): number => bits[y * columns + (((x % columns) + columns) % columns)];
  const each = (value: (x: number) => number) => Float64Array.from({ length: columns }, (_, x) => value(x));
  const meanOver = (value: (y: number) => number): number => {
    let sum = 0;
    for (let y = 1; y + 1 < rows; y++) sum += value(y);
    return sum / (rows - 2);
  };
  const cellVariance = (x: number, side: number): number => {
    const counts: number[] = [];
    for (let top = 0; top + side <= rows; top += side) {
      let count = 0;
      for (let y = top; y < top + side; y++) {
        for (let dx = -side / 2; dx < side / 2; dx++) count += at(x + dx, y);
      }
      // Tones drift down the picture, so neighbours are compared.
      counts.push(count);
    }
    let sum = 0;
    for (let k = 1; k < counts.length; k++) sum += (counts[k] - counts[k - 1]) ** 2;
    return sum / counts.length;
  };
  return {
    step: each((x) => meanOver((y) => at(x, y) - at(x - 1, y))),
    differing: each((x) => meanOver((y) => at(x, y) ^ at(x - 1, y))),
    rising: each((x) => meanOver((y) => at(x, y) ^ at(x - 1, y + 1))),
    falling: each((x) => meanOver((y) => at(x, y) ^ at(x - 1, y - 1))),
    cellsOf4: each((x) => cellVariance(x, 4)),
    cellsOf8: each((x) => cellVariance(x, 8)),
  };
}

/**
 * How far the seam, and the boundaries of the columns beside it, stand out in each respect: their largest distance from the
 * median in units of the largest at any boundary further away. 1 or less is no seam.
 */
export function seamStandsOut(statistics: SeamStatistics, beside = 2): Record<string, number> {
  return Object.fromEntries(
    Object.entries(statistics).map(([respect, values]) => {
      const median = Float64Array.from(values).sort()[values.length >> 1];
      const distance = values.map((value) => Math.abs(value - median));
      const near = (x: number) => Math.min(x, values.length - x) <= beside;
      const atSeam = Math.max(...distance.filter((_, x) => near(x)));
      const elsewhere = Math.max(...distance.filter((_, x) => !near(x)));
      return [respect, atSeam <= 1e-12 ? 0 : atSeam / elsewhere];
    }),
  );
}
