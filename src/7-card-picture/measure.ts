import { type CardView, inPicture } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** A rectangle in mm on the card. */
export interface MmArea {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
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

/** Sides of the part of a patch that is measured. */
export const innerSize = ({ widthMm, heightMm }: Pick<MmArea, "widthMm" | "heightMm">) => ({
  widthMm: (1 - 2 * RIM) * widthMm,
  heightMm: (1 - 2 * RIM) * heightMm,
});

/** Light from here on counts as clipped, and up to there as lost in black. */
const [BLACK, WHITE] = [0.0005, 0.985];

/** The mean light of every patch, sampled about once per pixel of the picture. */
export function measurePatches(
  picture: LightPlane,
  view: CardView,
  areas: readonly MmArea[],
): MeasuredPatch[] {
  return areas.map((area) => {
    const [left, top] = [area.leftMm + RIM * area.widthMm, area.topMm + RIM * area.heightMm];
    const { widthMm: width, heightMm: height } = innerSize(area);
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
