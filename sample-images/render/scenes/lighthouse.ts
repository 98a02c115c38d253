import { bake } from "../bake.js";
import { house } from "../buildings.js";
import { createCamera } from "../camera.js";
import { renderImage } from "../image.js";
import { LAMP, LAMP_COLOUR, lamp, lantern, nearLamp, tower } from "../lighthouse-tower.js";
import { type Light, shade } from "../lighting.js";
import { fbm2, fbm3, ridged3 } from "../noise.js";
import type { Picture } from "../picture.js";
import { place } from "../place.js";
import { hash } from "../random.js";
import { blend, ellipsoid } from "../sdf.js";
import { createSky } from "../sky.js";
import {
  add,
  along,
  dot,
  length,
  mixVec,
  normalize,
  reflect,
  scale,
  smoothstep,
  sub,
  type Vec3,
} from "../vec.js";
import { waterNormal, waterReflectance } from "../water.js";
import { type Solid, World } from "../world.js";

const afterglow = normalize([-0.9, 0.17, 0.22]);

const clouds = createSky({
  toSun: afterglow,
  zenith: [0.028, 0.055, 0.135],
  horizon: [0.36, 0.27, 0.3],
  glow: [0.75, 0.3, 0.1],
  cloudLit: [0.62, 0.3, 0.22],
  cloudShade: [0.09, 0.095, 0.15],
  cloudStart: 0.06,
  offset: [1.7, 2.2],
});

const sky = (d: Vec3): Vec3 => {
  const up = Math.max(d[1], 0);
  const warm = Math.exp(-up * 9) * (0.55 + 0.45 * smoothstep(0.5, -0.8, d[0]));
  const base = add(clouds([d[0], up, d[2]]), scale([0.85, 0.36, 0.13], warm));
  const star = hash(Math.floor(d[0] * 1300), Math.floor(d[1] * 1300), Math.floor(d[2] * 1300));
  const faint = Math.max(0, star - 0.9998) * 5000 * smoothstep(0.2, 0.5, up) * 0.5;
  return add(base, [faint, faint, faint]);
};

const light: Light = {
  lamps: [{ toLamp: afterglow, colour: [1.35, 0.62, 0.3], spread: 0.12 }],
  skyUp: [0.14, 0.18, 0.3],
  skySide: [0.2, 0.165, 0.19],
  ground: [0.05, 0.05, 0.06],
  reach: 2.2,
  environment: sky,
};

/** Skerry of blended boulders, cut into ledges by creased noise. */
const boulders: readonly (readonly [number, number, number, number, number, number])[] = [
  [3, 1, 4, 11, 5.6, 9],
  [11.5, 0, 3, 9.5, 5.1, 8],
  [-6.5, -0.6, 1, 7, 3.3, 6],
  [1, -0.4, -6, 7, 3, 4.5],
  [-13, -0.8, -3, 4.5, 2, 3.5],
  [13, -1.2, -9, 4.2, 2.5, 3.4],
  [-5.6, -1.2, -20, 2.6, 1.9, 1.8],
];

const exactRock = (x: number, y: number, z: number): number => {
  let base = 1e3;
  for (const [cx, cy, cz, a, b, c] of boulders)
    base = blend(base, ellipsoid(x - cx, y - cy, z - cz, a, b, c), 1.6);
  if (base > 2) return base - 1.1;
  const tilt = y + 0.35 * x - 0.2 * z;
  const ledge = 0.22 * Math.abs(((((tilt * 0.62) % 1) + 1) % 1) - 0.5);
  const crease = ridged3(x * 0.17 + 3, tilt * 0.3, z * 0.17, 5);
  // The top under the buildings stays level.
  const level = smoothstep(4, 6, Math.hypot(x - 5.5, z - 4) * 0.8);
  return (base + 3.1 * level * (crease - 0.62) + ledge - 0.1) * 0.55;
};

const rock = bake(exactRock, [-20, -1.5, -24], [23, 8, 14], 0.14);

const bump = (x: number, y: number, z: number): number => fbm3(x * 4, y * 6, z * 4, 3);

const skerry: Solid = {
  centre: [1, 0, -3],
  radius: 27,
  distance: rock,
  exact: exactRock,
  material: nearLamp((p, n) => {
    const fine = fbm3(p[0] * 1.6, p[1] * 3.2, p[2] * 1.6, 5);
    const e = 0.03;
    const h = bump(...p);
    const relief = normalize(
      sub(
        n,
        scale(
          [bump(p[0] + e, p[1], p[2]) - h, bump(p[0], p[1] + e, p[2]) - h, bump(p[0], p[1], p[2] + e) - h],
          0.11 / e,
        ),
      ),
    );
    const turf = smoothstep(0.72, 0.93, n[1] + 0.35 * fine) * smoothstep(3.2, 4.6, p[1] + 1.5 * fine);
    const wet = smoothstep(1.7, 0.4, p[1] + fine);
    const stone = scale(mixVec([0.2, 0.165, 0.135], [0.13, 0.125, 0.125], 0.5 + fine), 0.85 + 0.8 * fine);
    const dry = mixVec(stone, [0.075, 0.085, 0.03], turf);
    return {
      albedo: scale(dry, 1 - 0.68 * wet),
      specular: 0.01 + 0.025 * wet,
      shininess: 18 + 30 * wet,
      normal: relief,
    };
  }, 5),
};

const cottage = place(
  house({
    width: 4.6,
    height: 2.7,
    depth: 7,
    wall: [0.7, 0.66, 0.6],
    roof: [0.1, 0.095, 0.1],
    seed: 9,
    lamplight: [1.5, 0.85, 0.3],
  }),
  [10.2, 4.6, 4.4],
  1.15,
);

const world = new World([tower, lantern, lamp, skerry, cottage]);
const camera = createCamera([-1, 2.4, -44], [1.1, 10.4, 0], 43);
const PIXEL = 4.9e-4;

const BEAMS: readonly Vec3[] = [normalize([-0.93, 0.02, -0.3]), normalize([0.93, -0.02, 0.3])];

/** Light that mist scatters out of the two beams and round the lamp, along a ray ending at `far`. */
const mistLight = (o: Vec3, d: Vec3, far: number): number => {
  const toLamp = sub(LAMP, o);
  const tLamp = dot(toLamp, d);
  if (tLamp > far + 2) return 0;
  const miss = length(sub(toLamp, scale(d, tLamp)));
  let sum = 0.05 / (miss + 0.5) + 0.16 * Math.exp(-((miss / 1.6) ** 2));
  for (const b of BEAMS) {
    // Closest points of two lines: s metres along the beam.
    const bd = dot(b, d);
    const s = (dot(toLamp, d) * bd - dot(toLamp, b)) / (1 - bd * bd);
    if (s < 0) continue;
    const q = along(LAMP, b, s);
    const t = dot(sub(q, o), d);
    if (t > far) continue;
    const apart = length(sub(sub(q, o), scale(d, t)));
    const width = 0.5 + 0.045 * s;
    sum += (0.14 * Math.exp(-((apart / width) ** 2)) * Math.exp(-s / 42)) / (0.7 + 0.5 * width);
  }
  return sum;
};

const solidLight = (o: Vec3, d: Vec3, far: number): { colour: Vec3; t: number } | undefined => {
  const hit = world.trace(o, d, far, PIXEL * 0.4);
  return hit && { colour: shade(world, light, o, d, hit, hit.t * PIXEL), t: hit.t };
};

const seaLight = (o: Vec3, d: Vec3, t: number): Vec3 => {
  const p = along(o, d, t);
  const n = waterNormal(p[0] * 0.6, p[2] * 0.6, 0.21, t * PIXEL);
  const bounced = reflect(d, n);
  const up = normalize([bounced[0], Math.max(bounced[1], 0.01), bounced[2]]);
  const start: Vec3 = [p[0], 0.02, p[2]];
  const mirrored = t < 90 ? (solidLight(start, up, 70)?.colour ?? sky(up)) : sky(up);
  const share = waterReflectance(Math.max(-dot(d, n), 0));
  const sea = add(scale(mirrored, 0.03 + 0.95 * share), [0.006, 0.013, 0.02]);
  if (t > 90) return mixVec(sea, sky([d[0], 0.004, d[2]]), smoothstep(150, 900, t) * 0.8);
  // Wash round the rocks: broken white, thinning outward.
  const shore = rock(p[0], 0.1, p[2]) / 0.55;
  const lace = 0.5 + fbm2(p[0] * 1.3, p[2] * 2.6, 5) + 0.35 * fbm2(p[0] * 6, p[2] * 9, 3);
  const foam =
    smoothstep(0.45, 0.95, lace + smoothstep(2.6, 0, shore) * 0.75 - 0.42) * smoothstep(4.2, 0.6, shore);
  return mixVec(sea, scale([0.36, 0.33, 0.37], 0.6 + 0.6 * lace), 0.85 * foam);
};

const radiance = (u: number, v: number): Vec3 => {
  const o = camera.position;
  const d = camera.ray(u, v);
  const toSea = d[1] < -1e-4 ? -o[1] / d[1] : 3000;
  const seen = solidLight(o, d, Math.min(toSea, 120));
  const far = seen?.t ?? toSea;
  const colour = seen?.colour ?? (toSea < 3000 ? seaLight(o, d, toSea) : sky(d));
  return add(colour, scale(LAMP_COLOUR, mistLight(o, d, far)));
};

export const picture: Picture = {
  widthPx: 1200,
  heightPx: 1600,
  film: {
    exposure: 0.1,
    contrast: 1.45,
    white: 3.2,
    bloom: 0.11,
    vignette: 0.18,
    grain: 1.6,
    saturation: 0.95,
  },
  render: (width, height) => renderImage(width, height, 2, radiance),
};
