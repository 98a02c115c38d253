/** A plane at low resolution over a whole picture. Rows may be closed: their last and first cell are then neighbours. */
export interface CoarseGrid {
  readonly columns: number;
  readonly rows: number;
  readonly closed: boolean;
}

/** The two cells of `count` around a share 0..1 of the whole, and how far it lies from the first to the second. */
export function between(
  share: number,
  count: number,
  closed: boolean,
): [from: number, to: number, weight: number] {
  if (closed) {
    const at = share * count - 0.5;
    const from = Math.floor(at);
    return [(from + count) % count, (from + 1) % count, at - from];
  }
  const at = Math.min(count - 1, Math.max(0, share * count - 0.5));
  const from = Math.floor(at);
  return [from, Math.min(count - 1, from + 1), at - from];
}

export const mix = (from: number, to: number, weight: number): number => from + (to - from) * weight;
