/** A stretch of a patch's side. */
export interface Stretch {
  readonly fromMm: number;
  readonly lengthMm: number;
}

/**
 * The middle of a side as whole periods of what it shows: part of a period would make a mean too light or too dark. A period that is
 * longer than the room within the rims is not seen whole.
 *
 * @param within rim to leave out at each end, and period
 */
export function wholePeriods(
  fromMm: number,
  sideMm: number,
  within: { readonly rimMm: number; readonly periodMm: number | undefined },
): Stretch {
  const room = sideMm - 2 * within.rimMm;
  const { periodMm = room } = within;
  // Rounding must not cost a period that just fits.
  const periods = Math.floor(room / periodMm + 1e-6);
  const lengthMm = periods > 0 ? periods * periodMm : room;
  return { fromMm: fromMm + (sideMm - lengthMm) / 2, lengthMm };
}
