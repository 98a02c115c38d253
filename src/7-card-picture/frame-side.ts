import { type CardView, inPicture, type Point } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** A side of the frame: its middle line from one end to the other, in mm on the card, and the direction out of the card. */
export interface FrameSide {
  readonly from: Point;
  readonly to: Point;
  readonly outwards: Point;
}

/** The middle lines of the four sides of a card's frame, without the corners. */
export function frameSides(
  widthMm: number,
  heightMm: number,
  frameMm: number,
  cornerMm: number,
): FrameSide[] {
  const [half, skipped] = [frameMm / 2, cornerMm + 1];
  const [right, lower] = [widthMm - half, heightMm - half];
  return [
    { from: [skipped, half], to: [widthMm - skipped, half], outwards: [0, -1] },
    { from: [right, skipped], to: [right, heightMm - skipped], outwards: [1, 0] },
    { from: [skipped, lower], to: [widthMm - skipped, lower], outwards: [0, 1] },
    { from: [half, skipped], to: [half, heightMm - skipped], outwards: [-1, 0] },
  ];
}

/** A picture, and how the card is believed to lie in it. */
export interface FrameLook {
  readonly picture: LightPlane;
  readonly view: CardView;
  readonly frameMm: number;
  /** Ln light of a bare surface less that of a solid fill; below 0 on a material that marks lighter. */
  readonly contrast: number;
}

/** Where a side was looked for, and how strongly it was seen there. */
export interface SeenSide {
  /** Distance outwards of the frame's middle line from where the view puts it, in mm: at the start, and its change to the end. */
  readonly shiftMm: number;
  readonly slantMm: number;
  /** Mean contrast of the bar to both sides, as a share of the contrast between solid and bare; 1 is a sharp frame. */
  readonly strength: number;
}

const PROFILES = 80;
const STEP_MM = 0.1;
const MAX_SLANT_MM = 4;

/**
 * Find a side of the frame near where a view puts it: the line along which a bar as thick as the frame stands out best from the
 * surface on both sides. Patches stand out too, but not all along a line.
 */
export function findSide(look: FrameLook, side: FrameSide, reachMm: number): SeenSide {
  const count = 2 * Math.round(reachMm / STEP_MM) + 1;
  const standsOut = Array.from({ length: PROFILES }, (_, k) =>
    barContrast(look, profileOf(look, side, (k + 0.5) / PROFILES, reachMm + 2 * look.frameMm), count),
  );
  let best: SeenSide = { shiftMm: 0, slantMm: 0, strength: 0 };
  const middle = (count - 1) / 2;
  const slants = Math.round(Math.min(MAX_SLANT_MM, reachMm) / STEP_MM);
  for (let first = 0; first < count; first++) {
    for (let slant = -slants; slant <= slants; slant += 2) {
      const last = first + slant;
      if (last < 0 || last >= count) continue;
      let sum = 0;
      for (let k = 0; k < PROFILES; k++) {
        sum += standsOut[k][Math.round(first + (slant * (k + 0.5)) / PROFILES)];
      }
      if (sum / PROFILES <= best.strength) continue;
      best = {
        shiftMm: (first - middle) * STEP_MM,
        slantMm: slant * STEP_MM,
        strength: sum / PROFILES,
      };
    }
  }
  return best;
}

/** Below this light a logarithm would see noise. */
export const DARKEST = 1e-3;

/** Ln light along a line across the side, from inside to outside. */
function profileOf(
  { picture, view }: FrameLook,
  side: FrameSide,
  share: number,
  reachMm: number,
): Float64Array {
  const half = Math.round(reachMm / STEP_MM);
  return Float64Array.from({ length: 2 * half + 1 }, (_, k) =>
    Math.log(
      Math.max(DARKEST, lightAt(picture, inPicture(view, besideSide(side, share, (k - half) * STEP_MM)))),
    ),
  );
}

/** A point so far outwards from a side's middle line, at a share of its length. */
export function besideSide({ from, to, outwards }: FrameSide, share: number, outMm: number): Point {
  return [
    from[0] + share * (to[0] - from[0]) + outMm * outwards[0],
    from[1] + share * (to[1] - from[1]) + outMm * outwards[1],
  ];
}

/** For each place of a bar: how far it stands out from the nearer of both sides in ln light, −0.5 to 1: uneven light does not matter. */
function barContrast({ frameMm, contrast }: FrameLook, profile: Float64Array, count: number): Float64Array {
  const bar = Math.round(frameMm / STEP_MM);
  const sums = new Float64Array(profile.length + 1);
  for (let k = 0; k < profile.length; k++) sums[k + 1] = sums[k] + profile[k];
  const mean = (from: number, to: number): number => (sums[to] - sums[from]) / (to - from);
  const margin = (profile.length - count) / 2;
  return Float64Array.from({ length: count }, (_, k) => {
    const from = Math.round(k + margin - bar / 2);
    const inside = mean(from - bar, from);
    const outside = mean(from + bar, from + 2 * bar);
    const here = mean(from, from + bar);
    const out = Math.min((inside - here) / contrast, (outside - here) / contrast);
    return Number.isNaN(out) ? 0 : Math.min(1, Math.max(-0.5, out));
  });
}
