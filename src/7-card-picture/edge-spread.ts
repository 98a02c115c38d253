import { medianOf } from "../core/median.js";
import { type CardView, inPicture } from "./card-view.js";
import { besideSide, type FrameSide } from "./frame-side.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** How a picture shows the outer edge of the frame (edge spread function, ISO 12233). */
export interface EdgeSpread {
  /** From 10 to 90 % of the step between frame and surface, in the direction in which it is wider. */
  readonly widthMm: number;
  /** How far the surface next to the frame goes beyond the surface farther out, as a share of the step: sharpening. */
  readonly overshoot: number;
}

const PROFILES = 100;
const STEP_MM = 0.02;
/** From the middle line of the frame outwards; the surface is bare from its edge on. */
const REACH_MM = 1.6;

/** @param sides upper, right, lower, left */
export function edgeSpread(
  picture: LightPlane,
  view: CardView,
  sides: readonly FrameSide[],
  frameMm: number,
): EdgeSpread {
  const each = sides.map((side) => sideSpread(picture, view, side, frameMm));
  const [upper, right, lower, left] = each.map(({ widthMm }) => widthMm);
  return {
    widthMm: Math.max((upper + lower) / 2, (right + left) / 2),
    overshoot: medianOf(each.map(({ overshoot }) => overshoot)),
  };
}

/** Each place across the edge is the median of many places along it. */
function sideSpread(picture: LightPlane, view: CardView, side: FrameSide, frameMm: number): EdgeSpread {
  const profile = Array.from({ length: Math.round(REACH_MM / STEP_MM) + 1 }, (_, k) =>
    medianOf(
      Array.from({ length: PROFILES }, (_, i) =>
        lightAt(picture, inPicture(view, besideSide(side, (i + 0.5) / PROFILES, k * STEP_MM))),
      ),
    ),
  );
  const at = (mm: number): number => Math.round(mm / STEP_MM);
  const inside = medianOf(profile.slice(0, at(frameMm / 4)));
  const outside = medianOf(profile.slice(at(frameMm / 2 + 0.6)));
  const shares = profile.map((light) => (light - inside) / (outside - inside));
  const first = (share: number): number => shares.findIndex((each) => each >= share) * STEP_MM;
  return {
    widthMm: first(0.9) - first(0.1),
    overshoot: Math.max(...shares.slice(at(frameMm / 2))) - 1,
  };
}
