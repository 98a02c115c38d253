import { createCamera } from "../camera.js";
import { figurehead } from "../figurehead.js";
import { renderImage } from "../image.js";
import { type Light, shade } from "../lighting.js";
import { noise2 } from "../noise.js";
import type { Picture } from "../picture.js";
import { place } from "../place.js";
import { add, mixVec, normalize, scale, smoothstep, type Vec3 } from "../vec.js";
import { World } from "../world.js";

/** A tall window to the left, a dim room elsewhere. */
const room = (d: Vec3): Vec3 => {
  const window = smoothstep(-0.35, -0.6, d[0]) * smoothstep(-0.2, 0.15, d[1]) * smoothstep(0.95, 0.7, d[1]);
  return add([0.05, 0.048, 0.05], scale([1.5, 1.45, 1.35], window));
};

const light: Light = {
  lamps: [
    { toLamp: normalize([-0.86, 0.4, -0.4]), colour: [3.1, 2.85, 2.5], spread: 0.22 },
    // A second, weaker window behind on the right lifts the far edge off the background.
    { toLamp: normalize([0.85, 0.3, 0.55]), colour: [0.9, 1.0, 1.15], spread: 0.3 },
  ],
  skyUp: [0.15, 0.15, 0.16],
  skySide: [0.085, 0.083, 0.085],
  ground: [0.07, 0.05, 0.035],
  reach: 0.55,
  environment: room,
};

const world = new World([place(figurehead, [0, 0, 0], 0.42)]);
const camera = createCamera([0.25, 0.05, -9], [0.02, -0.42, 0], 25.5);
const PIXEL = 3e-4;

/** Workshop far out of focus: shelves melt into soft bands, with a glow from the window side. */
const background = (u: number, v: number): Vec3 => {
  const wash = 0.5 + 0.5 * noise2(u * 2.2 + 4, v * 1.6 + 2);
  const glow = Math.exp(-((u + 0.42) ** 2 + (v + 0.12) ** 2) * 7);
  const shelf =
    smoothstep(0.1, 0, Math.abs(v - 0.18)) * 0.35 + smoothstep(0.08, 0, Math.abs(v + 0.21)) * 0.25;
  const base = mixVec([0.05, 0.05, 0.052], [0.1, 0.085, 0.07], wash);
  return scale(add(base, scale([0.2, 0.18, 0.15], glow)), 1 - 0.5 * shelf * smoothstep(-0.35, 0.4, u));
};

const radiance = (u: number, v: number): Vec3 => {
  const o = camera.position;
  const d = camera.ray(u, v);
  const hit = world.trace(o, d, 20, PIXEL * 0.5);
  if (!hit) return background(u, v);
  return shade(world, light, o, d, hit, hit.t * PIXEL);
};

export const picture: Picture = {
  widthPx: 1200,
  heightPx: 1500,
  film: {
    exposure: 0.1,
    contrast: 1.3,
    white: 2.4,
    bloom: 0.05,
    vignette: 0.25,
    grain: 1.6,
    saturation: 0.9,
  },
  render: (width, height) => renderImage(width, height, 2, radiance),
};
