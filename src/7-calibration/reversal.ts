import type { MeasuredCard } from "./card.js";
import { cardDesigns } from "./card-designs.js";
import { unweighedCard } from "./patch-noise.js";
import type { TrialBeam } from "./trial-beam.js";

/** Patterns whose doses lie within this share of their mean show one tone. */
const MOST_RIPPLE = 0.15;
/** Smallest turn of the luminance factor that counts, as a share of its range. Readings differ by less. */
const LEAST_TURN = 0.04;

/** Doses beyond the reversal that a pattern may still have: its own dose is a mean. */
const BEYOND = 1.05;

/** A pattern as one tone at one dose. */
interface Tone {
  readonly dose: number;
  readonly luminance: number;
}

/**
 * Dose beyond which the tone turns back, as where charred marks become pale; undefined if it never does. Told by even tones alone, so the
 * beam need not be known.
 */
export function reversalDose(tones: readonly Tone[]): number | undefined {
  const inOrder = [...tones].sort((a, b) => a.dose - b.dose);
  const values = inOrder.map(({ luminance }) => luminance);
  const [first, last] = [values[0], values[values.length - 1]];
  const [darkest, lightest] = [Math.min(...values), Math.max(...values)];
  const range = lightest - darkest;
  // The far end of the curve is what lies further from the bare surface.
  const darkens = first - darkest > lightest - first;
  const turn = darkens ? darkest : lightest;
  if (Math.abs(last - turn) < LEAST_TURN * range) return undefined;
  return inOrder[values.indexOf(turn)].dose;
}

/** A card, and where its curve ends. */
export interface CardPart {
  readonly card: MeasuredCard;
  /** Cards whose tone turns back, by their places, and the dose as it was meant. */
  readonly reversals: readonly { readonly place: number; readonly dose: number }[];
  /** Patterns left out. */
  readonly beyond: readonly string[];
}

/**
 * The card without the patterns whose doses go beyond a reversal. The starting beam is near enough to tell which they are. Of several
 * cards each is looked at by itself: how their doses differ is not known yet.
 */
export function beforeReversal(card: MeasuredCard, beam: TrialBeam): CardPart {
  const { luminance } = unweighedCard(card);
  const { doses, factors } = cardDesigns(card, beam)(beam);
  const facts = doses.map((each, k) => factsOf(each.map((dose) => dose * factors[k])));
  const placeOf = (k: number): number => card.patterns[k].other?.place ?? 0;
  const places = [...new Set(card.patterns.map((_, k) => placeOf(k)))];
  const ends = places.map((place) =>
    reversalDose(
      facts.flatMap(({ mean, deviation }, k) => {
        const isEven = mean === 0 || deviation / mean <= MOST_RIPPLE;
        return placeOf(k) === place && isEven ? [{ dose: mean, luminance: luminance[k] }] : [];
      }),
    ),
  );
  const isKept = (k: number): boolean => {
    const end = ends[places.indexOf(placeOf(k))];
    return end === undefined || facts[k].largest <= end * BEYOND;
  };
  return {
    card: { ...card, patterns: card.patterns.filter((_, k) => isKept(k)) },
    reversals: ends.flatMap((dose, n) => {
      const place = places[n];
      const cameOut = place === 0 ? 1 : beam.others[place - 1].dose;
      return dose === undefined ? [] : [{ place, dose: dose / cameOut }];
    }),
    beyond: card.patterns.flatMap(({ id }, k) => (isKept(k) ? [] : [id])),
  };
}

function factsOf(doses: Float64Array) {
  const mean = doses.reduce((sum, dose) => sum + dose, 0) / doses.length;
  const variance = doses.reduce((sum, dose) => sum + (dose - mean) ** 2, 0) / doses.length;
  return { mean, deviation: Math.sqrt(variance), largest: Math.max(...doses) };
}
