import { intervalOf, pchipSlopes } from "../monotone-cubic.js";

/** Mean luminance factor of each fill, from the response's values at its knots. */
export type FillLuminances = (values: ArrayLike<number>) => Float64Array;

/** Shares of the knots' values and slopes in the mean of one fill. */
interface Shares {
  readonly ofValues: Float64Array;
  readonly ofSlopes: Float64Array;
}

/**
 * Solid fills of a surface whose response is the monotone cubic through its knots. Across the lines of a fill the dose is the mean
 * dose times the ripple. A cubic is linear in its values and slopes, so their shares in a mean are summed once.
 *
 * @param knots doses of the response's points, rising
 * @param meanDoses mean dose of each fill
 * @param ripple dose over mean dose at equally spaced places across the lines
 */
export function solidFills(
  knots: ArrayLike<number>,
  meanDoses: readonly number[],
  ripple: Float64Array,
): FillLuminances {
  const fills = meanDoses.map((dose) => sharesOf(knots, dose, ripple));
  return (values) => {
    const slopes = pchipSlopes(knots, values);
    return Float64Array.from(fills, ({ ofValues, ofSlopes }) => {
      let sum = 0;
      for (let k = 0; k < ofValues.length; k++) sum += ofValues[k] * values[k] + ofSlopes[k] * slopes[k];
      return sum;
    });
  };
}

function sharesOf(knots: ArrayLike<number>, meanDose: number, ripple: Float64Array): Shares {
  const last = knots.length - 1;
  const ofValues = new Float64Array(knots.length);
  const ofSlopes = new Float64Array(knots.length);
  const share = 1 / ripple.length;
  for (const relative of ripple) {
    const dose = meanDose * relative;
    if (dose <= knots[0]) ofValues[0] += share;
    else if (dose >= knots[last]) ofValues[last] += share;
    else addHermite({ ofValues, ofSlopes }, knots, dose, share);
  }
  return { ofValues, ofSlopes };
}

/** Adds the weights of the two knots around a dose in the cubic between them. */
function addHermite(
  { ofValues, ofSlopes }: Shares,
  knots: ArrayLike<number>,
  dose: number,
  share: number,
): void {
  const k = intervalOf(knots, dose);
  const h = knots[k + 1] - knots[k];
  const t = (dose - knots[k]) / h;
  const s = 1 - t;
  ofValues[k] += share * (1 + 2 * t) * s * s;
  ofValues[k + 1] += share * (3 - 2 * t) * t * t;
  ofSlopes[k] += share * h * t * s * s;
  ofSlopes[k + 1] -= share * h * t * t * s;
}
