import { monotoneCubic } from "../monotone-cubic.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../physics/lightness.js";
import type { ResponsePoints } from "./response.js";

/**
 * `steep` if nearly all of the change in L* lies within a narrow range of dose (a coating that is stripped), `gradual` if it
 * spreads (wood that browns steadily).
 */
export type Shape = "steep" | "gradual";

/** Largest tone range that counts as steep. */
const STEEP_RANGE = 1;

/**
 * Between the two, figures that depend on the tone range change from those of a steep material to those of a gradual one: the same
 * ratio on either side of the cut, with most woods above it and most coatings below.
 */
const WHOLLY_STEEP = 1 / 1.15;
const WHOLLY_GRADUAL = 1.15;

export const shapeOf = (toneRange: number): Shape => (toneRange < STEEP_RANGE ? "steep" : "gradual");

/** A figure by tone range: linear in its logarithm between that of wholly steep and that of wholly gradual materials. */
export function byToneRange(toneRange: number, figures: Readonly<Record<Shape, number>>): number {
  const way = Math.log(toneRange / WHOLLY_STEEP) / Math.log(WHOLLY_GRADUAL / WHOLLY_STEEP);
  const gradual = Math.min(1, Math.max(0, way));
  return figures.steep + gradual * (figures.gradual - figures.steep);
}

/** (dose at 90 % of the whole change in L* − dose at 10 %) / dose at 50 %. */
export function toneRangeOf(points: ResponsePoints): number {
  const doseAt = (share: number): number => doseAtLightnessShare(points, share);
  return (doseAt(0.9) - doseAt(0.1)) / doseAt(0.5);
}

/** Dose that gives a share of the whole change in L*, by bisection. */
export function doseAtLightnessShare(points: ResponsePoints, share: number): number {
  const curve = monotoneCubic(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  const first = points[0];
  const last = points[points.length - 1];
  const bare = lightnessFromLuminance(first[1]);
  const end = lightnessFromLuminance(last[1]);
  const wanted = luminanceFromLightness(bare + share * (end - bare));
  const sign = Math.sign(last[1] - first[1]);
  let [low, high] = [0, last[0]];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (sign * (curve(middle) - wanted) < 0) low = middle;
    else high = middle;
  }
  return high;
}
