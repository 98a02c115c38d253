/** The cost and the benefit of a density. */
export interface Offer {
  readonly seconds: number;
  readonly tones: number;
}

/** Densities are whole numbers of lines, so twice a density may take slightly more than twice the time. */
const SLACK = 1.02;

/** Maximum of tones for twice the time of the offer at `index`, at an offer or interpolated between two. */
export function tonesForTwiceTheTime(offers: readonly Offer[], index: number): number {
  const { seconds, tones } = offers[index];
  let max = 0;
  let [before, after]: [Offer, Offer | undefined] = [offers[index], undefined];
  for (const offer of offers.slice(index + 1)) {
    if (offer.seconds <= 2 * SLACK * seconds) {
      max = Math.max(max, offer.tones);
      before = offer;
    } else {
      after ??= offer;
    }
  }
  if (after && before.seconds < 2 * seconds) {
    const share = Math.log((2 * seconds) / before.seconds) / Math.log(after.seconds / before.seconds);
    max = Math.max(max, before.tones + share * (after.tones - before.tones));
  }
  return max === 0 ? tones : max;
}

/**
 * Index of the cheapest offer after which another doubling of the time adds less than this share of tones. If every doubling pays,
 * it is the last offer.
 *
 * @param offers by rising time, at least one
 */
export function kneeOf(offers: readonly Offer[], gain: number): number {
  const knee = offers.findIndex(({ tones }, i) => tonesForTwiceTheTime(offers, i) < (1 + gain) * tones);
  return knee < 0 ? offers.length - 1 : knee;
}
