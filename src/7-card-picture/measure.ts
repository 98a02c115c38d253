import { type CardView, inPicture } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** A rectangle in mm on the card. */
export interface MmArea {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A patch, and the size of what it repeats. */
export interface PatternedArea extends MmArea {
  readonly periodAlongMm: number;
  readonly periodAcrossMm: number;
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
const RIM = 0.12;
/** More is left out of a blurred picture: two standard deviations of a blur whose edge is so wide from 10 to 90 %. */
const RIM_OF_EDGE = 0.8;
/** With a wider rim too little is left of a patch. */
const MOST_RIM = 0.28;

/** The width of an edge in a picture above which patches cannot be told from what is round them. */
export const mostEdgeMm = (patchMm: number): number => (MOST_RIM * patchMm) / RIM_OF_EDGE;

/** Light from here on counts as clipped, and up to there as lost in black. */
const [BLACK, WHITE] = [0.0005, 0.985];

/**
 * The mean light of every patch, sampled about once per pixel of the picture.
 *
 * @param edgeMm how wide an edge is in the picture, from 10 to 90 %
 */
export function measurePatches(
  picture: LightPlane,
  view: CardView,
  areas: readonly PatternedArea[],
  edgeMm: number,
): MeasuredPatch[] {
  return areas.map((area) => {
    const width = readLength(area.widthMm, area.periodAlongMm, edgeMm);
    const height = readLength(area.heightMm, area.periodAcrossMm, edgeMm);
    const [left, top] = [area.leftMm + (area.widthMm - width) / 2, area.topMm + (area.heightMm - height) / 2];
    const stepMm = pixelMm(view, area);
    const [across, down] = [width, height].map((side) => Math.max(4, Math.ceil(side / stepMm)));
    let [sum, squares, clipped] = [0, 0, 0];
    for (let j = 0; j < down; j++) {
      for (let i = 0; i < across; i++) {
        const light = lightAt(
          picture,
          inPicture(view, [left + ((i + 0.5) / across) * width, top + ((j + 0.5) / down) * height]),
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

/** Length that is read of a side, in its middle: whole periods, because the mean of a part of one depends on which part it is. */
function readLength(sideMm: number, periodMm: number, edgeMm: number): number {
  const insideMm = sideMm - 2 * Math.max(RIM * sideMm, RIM_OF_EDGE * edgeMm);
  const periods = Math.floor(insideMm / periodMm + 1e-6);
  return periods > 0 ? periods * periodMm : insideMm;
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
