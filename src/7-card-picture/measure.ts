import type { Pitch } from "../core/plane.js";
import { type CardView, inPicture } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";
import { wholePeriods } from "./whole-periods.js";

/** A rectangle in mm on the card. */
export interface MmArea {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface PatternArea extends MmArea {
  /** After these lengths what it shows repeats. Absent if it does not. */
  readonly periodMm?: Pitch | undefined;
}

/** What a patch shows. */
export interface MeasuredPatch {
  /** Mean light inside, without its rim; NaN if it lies outside the picture. */
  readonly light: number;
  /** Standard deviation of the light from place to place, its own pattern included. */
  readonly spread: number;
  /** Share of places as bright as the picture can show, or all but black. */
  readonly clipped: number;
}

/** Part of a patch's side that is left out at each end: blur, and a card that lies a little off. */
export const RIM = 0.12;
/** More is left out of a blurred picture: two standard deviations of a blur whose edge is so wide from 10 to 90 %. */
const RIM_OF_EDGE = 0.8;
/** With a wider rim too little is left of a patch. */
const MOST_RIM = 0.28;

/** The width of an edge in a picture above which patches cannot be told from what is round them. */
export const mostEdgeMm = (patchMm: number): number => (MOST_RIM * patchMm) / RIM_OF_EDGE;

/** Sides of the part of a patch that is measured. */
export const innerSize = ({ widthMm, heightMm }: Pick<MmArea, "widthMm" | "heightMm">) => ({
  widthMm: (1 - 2 * RIM) * widthMm,
  heightMm: (1 - 2 * RIM) * heightMm,
});

/** Light from here on counts as clipped, and up to there as lost in black. */
const [BLACK, WHITE] = [0.0005, 0.985];

/**
 * The mean light of every patch over whole periods of its pattern, sampled about once per pixel of the picture.
 *
 * @param edgeMm how wide an edge is in the picture, from 10 to 90 %
 */
export function measurePatches(
  picture: LightPlane,
  view: CardView,
  areas: readonly PatternArea[],
  edgeMm: number,
): MeasuredPatch[] {
  return areas.map((area) => {
    const rimMm = (sideMm: number): number => Math.max(RIM * sideMm, RIM_OF_EDGE * edgeMm);
    const [x, y] = [
      wholePeriods(area.leftMm, area.widthMm, {
        rimMm: rimMm(area.widthMm),
        periodMm: area.periodMm?.alongMm,
      }),
      wholePeriods(area.topMm, area.heightMm, {
        rimMm: rimMm(area.heightMm),
        periodMm: area.periodMm?.acrossMm,
      }),
    ];
    const stepMm = pixelMm(view, area);
    const [across, down] = [x, y].map(({ lengthMm }) => Math.max(4, Math.ceil(lengthMm / stepMm)));
    let [sum, squares, clipped] = [0, 0, 0];
    for (let j = 0; j < down; j++) {
      for (let i = 0; i < across; i++) {
        const light = lightAt(
          picture,
          inPicture(view, [
            x.fromMm + ((i + 0.5) / across) * x.lengthMm,
            y.fromMm + ((j + 0.5) / down) * y.lengthMm,
          ]),
        );
        sum += light;
        squares += light * light;
        if (light >= WHITE || light <= BLACK) clipped++;
      }
    }
    const count = across * down;
    const mean = sum / count;
    return {
      light: mean,
      spread: Math.sqrt(Math.max(0, squares / count - mean * mean)),
      clipped: clipped / count,
    };
  });
}

/** Size of a pixel of the picture on the card, in mm. */
function pixelMm(view: CardView, { leftMm, topMm }: MmArea): number {
  const [here, right, below] = [
    inPicture(view, [leftMm, topMm]),
    inPicture(view, [leftMm + 1, topMm]),
    inPicture(view, [leftMm, topMm + 1]),
  ];
  const along = Math.hypot(right[0] - here[0], right[1] - here[1]);
  const across = Math.hypot(below[0] - here[0], below[1] - here[1]);
  return 1 / Math.max(along, across);
}
