import { medianOf } from "../core/median.js";
import { type CardView, inPicture, type Point } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";
import type { MmArea } from "./measure.js";

/** The bare gaps round a patch. */
export interface GapLight {
  /** Light of the middle one of its four sides. */
  readonly light: number;
  /** Ln light of the lightest side less that of the darkest. */
  readonly difference: number;
}

/** Places along each side of a patch. */
const PLACES = 16;

/**
 * Light of the bare gaps round each patch, along their middle lines. They lie so close to it that a shadow, glare, or a thing that
 * lies on it shows in them too. The tones of the patches blur into them a little, so they are no substitute for references.
 */
export function gapLight(
  picture: LightPlane,
  view: CardView,
  areas: readonly MmArea[],
  gapMm: number,
): GapLight[] {
  return areas.map((area) => {
    const sides = gapsAround(area, gapMm / 2).map(([from, to]) =>
      medianOf(
        Array.from({ length: PLACES }, (_, k) =>
          lightAt(picture, inPicture(view, between(from, to, (k + 0.5) / PLACES))),
        ),
      ),
    );
    return { light: medianOf(sides), difference: Math.log(Math.max(...sides) / Math.min(...sides)) };
  });
}

/** Lines along the four sides of an area, so far outwards. */
function gapsAround({ leftMm, topMm, widthMm, heightMm }: MmArea, outMm: number): [Point, Point][] {
  const [right, below] = [leftMm + widthMm, topMm + heightMm];
  return [
    [
      [leftMm, topMm - outMm],
      [right, topMm - outMm],
    ],
    [
      [right + outMm, topMm],
      [right + outMm, below],
    ],
    [
      [leftMm, below + outMm],
      [right, below + outMm],
    ],
    [
      [leftMm - outMm, topMm],
      [leftMm - outMm, below],
    ],
  ];
}

const between = (from: Point, to: Point, share: number): Point => [
  from[0] + share * (to[0] - from[0]),
  from[1] + share * (to[1] - from[1]),
];
