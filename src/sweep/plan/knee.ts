/** A density as a matter of what it costs and what it gives. */
export interface Offer {
  readonly seconds: number;
  readonly tones: number;
}

/** Densities are whole numbers of lines, so that twice a density may take a trifle more than twice the time. */
const SLACK = 1.02;

/** Most tones to be had for twice the time of the offer at `index`, by what is offered or between two offers. */
export function tonesForTwiceTheTime(offers: readonly Offer[], index: number): number {
  const { seconds, tones } = offers[index];
  let most = 0;
  let [before, after]: [Offer, Offer | undefined] = [offers[index], undefined];
  for (const offer of offers.slice(index + 1)) {
    if (offer.seconds <= 2 * SLACK * seconds) {
      most = Math.max(most, offer.tones);
      before = offer;
    } else {
      after ??= offer;
    }
  }
  if (after && before.seconds < 2 * seconds) {
    const share = Math.log((2 * seconds) / before.seconds) / Math.log(after.seconds / before.seconds);
    most = Math.max(most, before.tones + share * (after.tones - before.tones));
  }
  return most === 0 ? tones : most;
}

/**
 * The cheapest offer after which another doubling of the time adds less than this share of tones; the last one where every
 * doubling pays. Returns its index.
 *
 * @param offers by rising time, at least one
 */
export function kneeOf(offers: readonly Offer[], gain: number): number {
  const knee = offers.findIndex(({ tones }, i) => tonesForTwiceTheTime(offers, i) < (1 + gain) * tones);
  return knee < 0 ? offers.length - 1 : knee;
}
