import { bake } from "./bake.js";
import type { Coat } from "./fur.js";
import { fbm3, noise3 } from "./noise.js";
import { blend, carve, ellipsoid, limb, sphere, torus } from "./sdf.js";
import { length, mix, mixVec, normalize, scale, smoothstep, sub, type Vec3 } from "./vec.js";
import type { Solid } from "./world.js";

// A sitting dog, metres. It faces −z and sits on y = 0. The left half mirrors the right, but for the tail.

const NOSE: Vec3 = [0, 0.712, -0.335];

const trunk = (x: number, y: number, z: number): number => {
  const chest = ellipsoid(x, y - 0.42, z + 0.07, 0.13, 0.2, 0.145);
  const back = limb(x, y, z, [0, 0.42, 0.01], [0, 0.17, 0.27], 0.135, 0.165);
  const haunch = ellipsoid(x - 0.135, y - 0.14, z - 0.17, 0.085, 0.145, 0.165);
  const foot = limb(x, y, z, [0.175, 0.036, -0.03], [0.165, 0.04, 0.16], 0.036, 0.04);
  const leg = limb(x, y, z, [0.08, 0.4, -0.1], [0.075, 0.07, -0.155], 0.06, 0.037);
  const paw = ellipsoid(x - 0.075, y - 0.034, z + 0.19, 0.047, 0.036, 0.066);
  const toes = 0.004 * Math.abs(Math.sin(70 * (x - 0.075)));
  const body = blend(blend(chest, back, 0.12), blend(haunch, foot, 0.05), 0.05);
  return blend(body, blend(leg, paw + toes, 0.04), 0.05);
};

const head = (x: number, y: number, z: number): number => {
  const neck = limb(x, y, z, [0, 0.5, -0.05], [0, 0.68, -0.1], 0.118, 0.088);
  const skull = ellipsoid(x, y - 0.752, z + 0.115, 0.092, 0.088, 0.105);
  const muzzle = limb(x, y, z, [0, 0.712, -0.19], [0, 0.698, -0.298], 0.054, 0.036);
  const lips = limb(x, y, z, [0.028, 0.69, -0.19], [0.016, 0.68, -0.29], 0.034, 0.025);
  const jaw = limb(x, y, z, [0, 0.662, -0.16], [0, 0.658, -0.268], 0.04, 0.02);
  const cheek = ellipsoid(x - 0.052, y - 0.706, z + 0.15, 0.046, 0.048, 0.055);
  const brow = sphere(x - 0.037, y - 0.783, z + 0.185, 0.028);
  const front = blend(blend(muzzle, lips, 0.02), jaw, 0.012);
  const face = blend(blend(skull, front, 0.055), blend(cheek, brow, 0.06), 0.045);
  const stop = limb(x, y, z, [0, 0.8, -0.225], [0, 0.757, -0.23], 0.012, 0.01);
  const socket = sphere(x - 0.046, y - 0.752, z + 0.215, 0.019);
  return blend(neck, carve(carve(face, stop, 0.04), socket, 0.02), 0.06);
};

/** Folded ear: rises from the skull, then hangs flat beside the cheek. */
const ear = (x: number, y: number, z: number): number => {
  const root = limb(x, y, z, [0.06, 0.812, -0.085], [0.105, 0.8, -0.095], 0.028, 0.024);
  const flap = ellipsoid(
    x - 0.122 + 0.22 * (y - 0.72),
    y - 0.725,
    z + 0.108 + 0.12 * (y - 0.72),
    0.02,
    0.085,
    0.052,
  );
  return blend(root, flap, 0.045);
};

const tail = (x: number, y: number, z: number): number =>
  Math.min(
    limb(x, y, z, [0.02, 0.08, 0.4], [0.22, 0.045, 0.36], 0.045, 0.045),
    limb(x, y, z, [0.22, 0.045, 0.36], [0.36, 0.05, 0.2], 0.045, 0.026),
  );

const exactDog = (px: number, y: number, z: number): number => {
  const x = Math.abs(px);
  return (
    Math.min(blend(blend(trunk(x, y, z), head(x, y, z), 0.08), ear(x, y, z), 0.012), tail(px, y, z)) * 0.9
  );
};

const CHESTNUT: Vec3 = [0.235, 0.098, 0.036];
const DARK: Vec3 = [0.07, 0.03, 0.015];
const WHITE: Vec3 = [0.74, 0.7, 0.63];

/** Where the lips meet. */
const LIP_LINE: readonly [Vec3, Vec3] = [
  [0.014, 0.655, -0.3],
  [0.05, 0.663, -0.2],
];

/** Hair colour at a point of the skin: white blaze, muzzle, bib and feet on chestnut. */
const coatColour = (p: Vec3): Vec3 => {
  const [x, y, z] = p;
  const ragged = 0.02 * fbm3(x * 22, y * 22, z * 22, 2);
  const side = Math.abs(x) + ragged;
  const onEar = smoothstep(0.002, -0.004, ear(Math.abs(x), y, z) - 0.004);
  const blaze = smoothstep(0.021, 0.013, side - 0.05 * smoothstep(0.2, 0.3, -z)) * smoothstep(0.64, 0.66, y);
  const snout = smoothstep(-0.225, -0.25, z + ragged) * smoothstep(0.6, 0.64, y);
  const bib =
    smoothstep(0.105, 0.075, side + 0.3 * (y - 0.45)) *
    smoothstep(0.02, -0.04, z) *
    smoothstep(0.67, 0.62, y + ragged);
  const feet = smoothstep(0.2, 0.13, y + 2 * ragged) * smoothstep(0.05, -0.02, z);
  const white = Math.max(blaze, snout, bib, feet) * (1 - onEar);
  const shade = mix(0.85, 1.15, 0.5 + noise3(x * 9, y * 5, z * 9));
  const brown = mixVec(
    CHESTNUT,
    DARK,
    0.55 * onEar + 0.35 * smoothstep(0.3, 0.75, 0.5 + noise3(x * 6, y * 6, z * 6)) * (1 - onEar),
  );
  const lip = limb(Math.abs(x), y, z, LIP_LINE[0], LIP_LINE[1], 0);
  const coat = scale(mixVec(brown, WHITE, white), shade);
  return mixVec(coat, [0.03, 0.02, 0.017], 0.9 * smoothstep(0.02, 0.012, lip) * smoothstep(-0.18, -0.21, z));
};

/** Length of the hair in metres. */
const hairLength = (p: Vec3): number => {
  const [x, y, z] = p;
  const face = smoothstep(0.61, 0.68, y) * smoothstep(-0.06, -0.15, z);
  const onEar = smoothstep(0.006, -0.002, ear(Math.abs(x), y, z));
  const low = smoothstep(0.24, 0.1, y) * smoothstep(0.06, -0.04, z);
  const muzzle = smoothstep(-0.2, -0.25, z) * face;
  const body = mix(0.042, 0.012, low);
  // The collar presses the hair flat.
  const pressed =
    smoothstep(0.05, 0.015, Math.abs(y - 0.605 - 0.28 * (z + 0.08))) *
    smoothstep(0.15, 0.13, Math.hypot(x, z + 0.08));
  return mix(
    mix(mix(body, 0.008, pressed), mix(0.013, 0.0065, muzzle), face),
    0.034,
    onEar * (0.4 + 0.6 * smoothstep(0.78, 0.7, y)),
  );
};

/** Which way the hair lies, not yet laid on to the skin: off the nose on the head, down and back below. */
const hairFlow = (p: Vec3): Vec3 => {
  const fromNose = normalize(sub(p, [NOSE[0], NOSE[1] + 0.01, NOSE[2] - 0.01]));
  const down: Vec3 = [p[0] * 1.2, -1, 0.28];
  const onEar = smoothstep(0.012, 0, ear(Math.abs(p[0]), p[1], p[2])) * smoothstep(0.83, 0.78, p[1]);
  const onHead = smoothstep(0.62, 0.7, p[1]) * (1 - onEar);
  const wave = 0.35;
  return normalize([
    mix(down[0], fromNose[0], onHead) + wave * noise3(p[0] * 13, p[1] * 9, p[2] * 13),
    mix(down[1], fromNose[1], onHead) + wave * 0.5 * noise3(p[0] * 13 + 9, p[1] * 9, p[2] * 13),
    mix(down[2], fromNose[2], onHead) + wave * noise3(p[0] * 13, p[1] * 9 + 5, p[2] * 13),
  ]);
};

/** Hair lies like tiles, each row over the next one from the nose. */
export const dogCoat: Coat = {
  colour: coatColour,
  hairLength,
  flow: hairFlow,
  order: (p) => length(sub(p, NOSE)),
};

/** The coat's surface; the hair itself grows on it as strands. */
export const dogSkin: Solid = {
  centre: [0.02, 0.42, 0.03],
  radius: 0.62,
  distance: bake(exactDog, [-0.3, -0.02, -0.38], [0.42, 0.87, 0.47], 0.006),
  exact: exactDog,
  material: (p) => {
    const rim = smoothstep(
      0.009,
      0.004,
      Math.abs(sphere(Math.abs(p[0]) - 0.046, p[1] - 0.752, p[2] + 0.207, 0.0205)),
    );
    return {
      albedo: scale(mixVec(coatColour(p), [0.02, 0.014, 0.012], rim), 0.8),
      specular: 0.01,
      shininess: 10,
    };
  },
};

const nose: Solid = {
  centre: NOSE,
  radius: 0.04,
  distance: (px, y, z) => {
    const x = Math.abs(px);
    const pad = ellipsoid(x, y - NOSE[1], z - NOSE[2] - 0.004, 0.025, 0.019, 0.02);
    const nostril = ellipsoid(x - 0.0125, y - NOSE[1] + 0.004, z - NOSE[2] + 0.014, 0.006, 0.0045, 0.008);
    const groove = limb(
      x,
      y,
      z,
      [0, NOSE[1] - 0.006, NOSE[2] - 0.018],
      [0, NOSE[1] - 0.03, NOSE[2] - 0.006],
      0.0012,
    );
    return carve(carve(pad, nostril, 0.004), groove, 0.004) * 0.8;
  },
  material: (p) => ({
    albedo: scale([0.018, 0.014, 0.014], 1 + 0.6 * noise3(p[0] * 500, p[1] * 500, p[2] * 500)),
    specular: 0.05,
    shininess: 45,
  }),
};

const eyes: Solid = {
  centre: [0, 0.75, -0.2],
  radius: 0.075,
  distance: (px, y, z) => sphere(Math.abs(px) - 0.046, y - 0.752, z + 0.199, 0.0185),
  material: (p) => {
    const iris = Math.hypot(Math.abs(p[0]) - 0.047, p[1] - 0.752);
    const albedo = mixVec(
      [0.006, 0.005, 0.005],
      [0.06, 0.022, 0.008],
      smoothstep(0.0055, 0.0075, iris) * smoothstep(0.0135, 0.011, iris),
    );
    return { albedo, specular: 0.13, shininess: 400 };
  },
};

const collar: Solid = {
  centre: [0, 0.575, -0.085],
  radius: 0.19,
  distance: (x, y, z) => {
    const band = torus(x, (y - 0.585 - 0.28 * (z + 0.08)) * 0.55, z + 0.083, 0.119, 0.0072);
    const tag = Math.max(Math.hypot(x, y - 0.522) - 0.021, Math.abs(z + 0.232) - 0.002);
    return Math.min(band, tag) * 0.8;
  },
  material: (p) => {
    const tag = p[2] < -0.222;
    return tag
      ? { albedo: [0.5, 0.34, 0.1], specular: 0.35, shininess: 60 }
      : { albedo: [0.3, 0.03, 0.025], specular: 0.04, shininess: 30 };
  },
};

/** Everything about the dog that carries no hair. */
export const dogTrim: readonly Solid[] = [nose, eyes, collar];
