/** Length of the part of pixel p that lies between two edges. */
const within = (p: number, from: number, to: number) => Math.max(0, Math.min(p + 1, to) - Math.max(p, from));

export type Place = readonly [x: number, y: number];

/** The root of p³ = p + 1, by Newton's method. */
const plastic = Array.from({ length: 20 }).reduce<number>((p) => p - (p ** 3 - p - 1) / (3 * p * p - 1), 1.3);

/** Whole pixels where an aperture fits, one after the other by the additive recurrence of 1/p and 1/p². */
export function recurrentPlaces(columns: number, rows: number, along: number, across: number): Place[] {
  const fits = [columns - Math.ceil(along - 1e-9) + 1, rows - Math.ceil(across - 1e-9) + 1];
  return Array.from({ length: 1000 }, (_, n) => [
    Math.floor(((n / plastic) % 1) * fits[0]),
    Math.floor(((n / plastic ** 2) % 1) * fits[1]),
  ]);
}

/** Every whole pixel where an aperture fits: all phases. */
export function everyPlace(columns: number, rows: number, along: number, across: number): Place[] {
  const places: Place[] = [];
  for (let y = 0; y + across <= rows + 1e-9; y++) {
    for (let x = 0; x + along <= columns + 1e-9; x++) places.push([x, y]);
  }
  return places;
}

/** Means in apertures, by a loop over every pixel, each counted by the part that lies within. */
export function directApertureMeans(
  plane: ArrayLike<number>,
  columns: number,
  along: number,
  across: number,
  places: readonly Place[],
): number[] {
  const rows = plane.length / columns;
  return places.map(([left, top]) => {
    let sum = 0;
    for (let y = top; y < Math.min(rows, top + across); y++) {
      for (let x = left; x < Math.min(columns, left + along); x++) {
        const share = within(x, left, left + along) * within(y, top, top + across);
        sum += share * plane[y * columns + x];
      }
    }
    return sum / (along * across);
  });
}
