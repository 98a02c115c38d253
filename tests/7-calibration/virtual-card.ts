import type { CardStart } from "../../src/7-calibration/calibration.js";
import type { MeasuredCard } from "../../src/7-calibration/card.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { seededRandom } from "../../src/core/random.js";
import { normals } from "../support/normals.js";
import { askReference } from "../support/reference.js";
import { type CardSize, type NamedTile, patternsOf, type RepeatedTile } from "./card-patterns.js";

/** A machine and a material that nobody tells the fit. */
export interface Truth {
  readonly response: ResponsePoints;
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  readonly firingLossUs?: number;
  readonly firingLagUs?: number;
  readonly lineShiftMm?: number;
  readonly lineExponent?: number;
  readonly oneWay?: boolean;
}

/** How a card is burned and read. */
export interface Reading {
  readonly size: CardSize;
  readonly pitchMm: number;
  /** The card's own number if absent. */
  readonly repeats?: number;
  /** Relative standard deviations of the dose of each place, and of what is read there. */
  readonly doseDeviation: number;
  readonly readingDeviation: number;
  readonly seed: number;
}

export const speedMmPerS = 300;

export interface TileMeans {
  readonly means: readonly number[];
  readonly meanDose: number;
  readonly doses?: readonly (readonly number[])[];
}

const parametersOf = (truth: Truth, pitchMm: number) => ({
  ...{ pitchAlongMm: pitchMm, pitchAcrossMm: pitchMm, speedMmPerS, samplesPerSpot: 8 },
  ...{ firingLossUs: 0, firingLagUs: 0, lineShiftMm: 0, lineExponent: 1 },
  ...truth,
  twoWay: !truth.oneWay,
});

/** Cards burned by the brute force of tests/reference, which shares no code with ours, and read with some noise. */
export function virtualCards(cards: readonly { truth: Truth; reading: Reading }[]): MeasuredCard[] {
  const shown = cards.map(({ reading }) => shownPatterns(reading));
  const drawn = cards.map(({ reading }, c) => {
    const random = seededRandom(reading.seed);
    return shown[c].map(({ repeats }) => Array.from({ length: repeats }, () => normals(random)));
  });
  const answers = askReference<TileMeans[][]>("tile_means.py", {
    cards: cards.map(({ truth, reading }, c) => ({
      params: parametersOf(truth, reading.pitchMm),
      tiles: shown[c].map(({ tile }, k) => ({
        ...{ columns: tile.columns, rows: tile.rows, codes: [...tile.codes], levels: 2 },
        factors: drawn[c][k].map(([dose]) => Math.exp(reading.doseDeviation * dose)),
      })),
    })),
  });
  return cards.map(({ truth, reading }, c) => ({
    pitch: { alongMm: reading.pitchMm, acrossMm: reading.pitchMm },
    ...{ levels: 2, speedMmPerS, oneWay: truth.oneWay ?? false },
    patterns: shown[c].map(({ id, tile }, k) => ({
      ...{ id, tile, doseFactor: 1 },
      places: answers[c][k].means.map((mean, r) => ({
        ...{ xMm: 0, yMm: 0 },
        luminance: mean * (1 + reading.readingDeviation * drawn[c][k][r][1]),
      })),
    })),
  }));
}

const shownPatterns = ({ size, pitchMm, repeats }: Reading): RepeatedTile[] =>
  patternsOf(size, pitchMm).map((each) => ({ ...each, repeats: repeats ?? each.repeats }));

/** Tiles burned on one machine. */
interface BurnedTiles {
  readonly truth: Truth;
  readonly levels: number;
  readonly tiles: readonly NamedTile[];
}

/** Doses of one period of each tile, and their mean luminance factor, by the same brute force. */
export const bruteDoses = (pitchMm: number, burned: readonly BurnedTiles[]): TileMeans[][] =>
  askReference<TileMeans[][]>("tile_means.py", {
    cards: burned.map(({ truth, levels, tiles }) => ({
      params: { ...parametersOf(truth, pitchMm), samplesPerSpot: 10 },
      tiles: tiles.map(({ tile }) => ({
        ...{ columns: tile.columns, rows: tile.rows, codes: [...tile.codes], levels },
        ...{ factors: [1], doses: true },
      })),
    })),
  });

/** A guess before the card: a round spot of 0.1 mm, and nothing else wrong. */
export const roundGuess: CardStart = {
  spot: { alongMm: 0.1, acrossMm: 0.1 },
  motion: { speedMmPerS, firingLagUs: 0, firingLossUs: 0, lineShiftMm: 0, oneWay: false },
  lineExponent: 1,
};

/** A made-up material between gradual and steep. */
export const middlingPoints: ResponsePoints = [
  [0, 0.6],
  [0.1, 0.59],
  [0.2, 0.54],
  [0.3, 0.45],
  [0.4, 0.35],
  [0.5, 0.26],
  [0.6, 0.19],
  [0.75, 0.13],
  [1, 0.09],
];
