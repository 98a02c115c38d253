import { type CardView, inPicture } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";
import type { MmArea } from "./measure.js";

/** Part of a patch's side that is left out at each end, so that its edges add no waves. */
const RIM = 0.15;

/** Height of a patch over which its waves are taken. */
export const waveHeightMm = ({ heightMm }: Pick<MmArea, "heightMm">): number => (1 - 2 * RIM) * heightMm;

/**
 * How the light of a patch changes from line to line: cosine waves of ln light, which is averaged along the lines first and freed of its
 * slope. Wave k = 1 … `count` is √(2/h) · ∫ ln light · cos(πky/h) dy over the height h, so its mean square is the spectral density at the
 * frequency k/2h. NaN outside the picture.
 */
export function rowWaves(picture: LightPlane, view: CardView, area: MmArea, count: number): Float64Array {
  const profile = freedOfSlope(rowProfile(picture, view, area));
  const stepMm = waveHeightMm(area) / profile.length;
  const scale = Math.sqrt(2 / waveHeightMm(area)) * stepMm;
  return Float64Array.from({ length: count }, (_, n) => {
    const turn = (Math.PI * (n + 1)) / profile.length;
    return scale * profile.reduce((sum, value, i) => sum + value * Math.cos(turn * (i + 0.5)), 0);
  });
}

/** ln of the mean light of each row, sampled about once per pixel of the picture. */
function rowProfile(picture: LightPlane, view: CardView, area: MmArea): Float64Array {
  const { leftMm, topMm, widthMm, heightMm } = area;
  const at = (across: number, down: number) =>
    inPicture(view, [
      leftMm + (RIM + (1 - 2 * RIM) * across) * widthMm,
      topMm + (RIM + (1 - 2 * RIM) * down) * heightMm,
    ]);
  const [corner, right, below] = [at(0, 0), at(1, 0), at(0, 1)];
  const columns = Math.ceil(Math.hypot(right[0] - corner[0], right[1] - corner[1]));
  const rows = Math.max(16, Math.ceil(Math.hypot(below[0] - corner[0], below[1] - corner[1])));
  return Float64Array.from({ length: rows }, (_, j) => {
    let sum = 0;
    for (let i = 0; i < columns; i++) sum += lightAt(picture, at((i + 0.5) / columns, (j + 0.5) / rows));
    return Math.log(sum / columns);
  });
}

function freedOfSlope(profile: Float64Array): Float64Array {
  const middle = (profile.length - 1) / 2;
  const mean = profile.reduce((sum, value) => sum + value, 0) / profile.length;
  const squares = (profile.length * (profile.length ** 2 - 1)) / 12;
  const slope = profile.reduce((sum, value, i) => sum + value * (i - middle), 0) / squares;
  return profile.map((value, i) => value - mean - slope * (i - middle));
}
