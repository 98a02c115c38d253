import { bake } from "./bake.js";
import { fbm3, noise3 } from "./noise.js";
import { blend, carve, cylinder, ellipsoid, limb, sphere, torus } from "./sdf.js";
import { clamp, mix, mixVec, scale, smoothstep, type Vec3 } from "./vec.js";
import type { Solid } from "./world.js";

// A carved sailor: crown to chin is about 2.4 units, the face looks along −z. The left half mirrors the right.

/** Skull, cheeks and brow. */
const skull = (x: number, y: number, z: number): number => {
  const cranium = ellipsoid(x, y - 0.42, z - 0.12, 0.8, 0.86, 0.95);
  const face = ellipsoid(x, y + 0.3, z + 0.2, 0.61, 0.8, 0.66);
  const cheek = ellipsoid(x - 0.38, y + 0.16, z + 0.58, 0.25, 0.2, 0.22);
  const brow = limb(x, y, z, [0.08, 0.21, -0.8], [0.52, 0.24, -0.6], 0.085, 0.075);
  return blend(blend(blend(cranium, face, 0.35), cheek, 0.26), brow, 0.16);
};

const EYE: Vec3 = [0.3, 0.035, -0.665];

const withEyes = (head: number, x: number, y: number, z: number): number => {
  const socket = ellipsoid(x - 0.3, y - 0.06, z + 0.83, 0.2, 0.115, 0.17);
  const ex = x - EYE[0];
  const ey = y - EYE[1];
  const ez = z - EYE[2];
  const pupil = sphere(ex + 0.015, ey + 0.005, ez + 0.15, 0.038);
  const ball = carve(sphere(ex, ey, ez, 0.142), pupil, 0.012);
  const lidEdge = 0.06 - 1.9 * ex * ex;
  const upper = Math.max(sphere(ex, ey, ez, 0.172), lidEdge - ey);
  const lower = Math.max(sphere(ex, ey - 0.005, ez, 0.162), ey + 0.062 - 1.4 * ex * ex);
  const lids = blend(upper, lower, 0.01);
  return Math.min(blend(carve(head, socket, 0.15), lids, 0.045), ball);
};

const withNose = (head: number, x: number, y: number, z: number): number => {
  const ridge = limb(x, y, z, [0, 0.16, -0.79], [0, -0.25, -1.04], 0.075, 0.118);
  const wing = ellipsoid(x - 0.115, y + 0.29, z + 0.9, 0.085, 0.08, 0.115);
  const nostril = ellipsoid(x - 0.06, y + 0.37, z + 0.96, 0.04, 0.05, 0.05);
  const nose = carve(blend(ridge, wing, 0.07), nostril, 0.03);
  // Folds that run from the wings past the mouth.
  const fold = limb(x, y, z, [0.2, -0.26, -0.83], [0.4, -0.52, -0.7], 0.02, 0.016);
  return carve(blend(head, nose, 0.1), fold, 0.09);
};

const withMouth = (head: number, x: number, y: number, z: number): number => {
  const lip = ellipsoid(x, y + 0.66, z + 0.8, 0.19, 0.06, 0.11);
  const parting = limb(x, y, z, [0, -0.595, -0.93], [0.25, -0.6, -0.76], 0.022, 0.012);
  return carve(blend(head, lip, 0.06), parting, 0.05);
};

/** Locks that run down and curl; x is already folded to one side. */
const locks = (x: number, y: number, z: number): number => {
  const across = Math.atan2(x, -z - 0.1);
  const wave = across * 15 + 1.5 * Math.sin(y * 6.5 + 3 * across) + 0.5 * Math.sin(y * 13 - 2 * across);
  return 0.028 * Math.abs(Math.sin(wave)) + 0.01 * Math.sin(wave * 3.1 + y * 4);
};

const withBeard = (head: number, x: number, y: number, z: number): number => {
  const chin = ellipsoid(x, y + 1.02, z + 0.5, 0.5, 0.55, 0.42);
  const jaw = limb(x, y, z, [0.68, -0.12, -0.04], [0.4, -0.82, -0.44], 0.13, 0.27);
  const beard = blend(chin, jaw, 0.22) - locks(x, y, z);
  const tash =
    Math.min(
      limb(x, y, z, [0.05, -0.475, -0.95], [0.27, -0.56, -0.83], 0.075, 0.085),
      limb(x, y, z, [0.27, -0.56, -0.83], [0.5, -0.66, -0.62], 0.085, 0.03),
    ) -
    0.014 * Math.abs(Math.sin(26 * (y + 0.42 * x) + 6 * z));
  const eyebrow =
    limb(x, y, z, [0.1, 0.235, -0.87], [0.5, 0.27, -0.66], 0.05, 0.03) -
    0.012 * Math.abs(Math.sin(34 * x + 20 * y));
  return Math.min(blend(head, beard, 0.05), blend(tash, eyebrow, 0.01));
};

const withEar = (head: number, x: number, y: number, z: number): number => {
  const shell = ellipsoid(x - 0.79 - 0.15 * (z - 0.05), y - 0.0, z - 0.05, 0.075, 0.22, 0.14);
  const bowl = ellipsoid(x - 0.87, y - 0.02, z + 0.0, 0.06, 0.13, 0.075);
  return blend(head, carve(shell, bowl, 0.05), 0.05);
};

/** Knitted cap with a turned-up cuff. */
const cap = (x: number, y: number, z: number): number => {
  const tilted = y - 0.16 * z;
  const angle = Math.atan2(x, z);
  const rib = 0.017 * Math.sin(angle * 46);
  const crown = ellipsoid(x, tilted - 0.6, z - 0.14, 0.86, 0.88, 0.98) - rib * clamp(1.5 - tilted);
  const dome = Math.max(crown, 0.6 - tilted);
  const fold = Math.max(
    Math.abs(ellipsoid(x, tilted - 0.5, z - 0.13, 0.86, 1.9, 0.965)) - 0.045,
    Math.abs(tilted - 0.64) - 0.17,
  );
  return Math.min(dome, fold - 0.035 - 0.8 * rib);
};

/** Rolled collar of a jersey, and shoulders that end in a cut plinth. */
const shoulders = (x: number, y: number, z: number): number => {
  const angle = Math.atan2(x, z - 0.1);
  const rib = 0.012 * Math.sin(angle * 38);
  const neck = cylinder(x, y + 1.3, z - 0.15, 0.5, 0.5, 0.1);
  const roll = torus(x, y + 1.36 + 0.1 * z, z - 0.12, 0.53, 0.17) - rib;
  const yoke = limb(x, y, z, [0.1, -1.78, 0.16], [1.12, -2.2, 0.22], 0.42, 0.4);
  const body = blend(ellipsoid(x, y + 2.3, z - 0.12, 1.32, 0.95, 0.74), yoke, 0.35);
  const purl = 0.014 * Math.sin(x * 44);
  // The coat stands open in a V over the jersey; its edge is rolled back.
  const opening = 0.06 + 0.42 * clamp(y + 2.35, 0, 1.2);
  const cloth = z < 0.1 ? Math.max(body - 0.075, (opening - x) * 0.9) : body - 0.075;
  const edge = z < 0.1 ? Math.max(body - 0.135, Math.abs(x - opening - 0.13) - 0.13) : 1;
  const coat = blend(cloth, edge + 0.02, 0.05);
  const button = sphere(x - opening - 0.34, y + 2.1, z + 0.6, 0.09);
  const jersey = blend(neck, body, 0.2) + purl;
  return Math.min(jersey, coat, roll, button);
};

const exact = (px: number, y: number, z: number): number => {
  const x = Math.abs(px);
  const bare = withEar(withMouth(withNose(withEyes(skull(x, y, z), x, y, z), x, y, z), x, y, z), x, y, z);
  return Math.min(withBeard(bare, x, y, z), cap(x, y, z), shoulders(x, y, z)) * 0.85;
};

/** Oiled wood: growth rings seen along the grain, pores, darker where dust and oil gather. */
export const figurehead: Solid = {
  centre: [0, -0.7, 0.1],
  radius: 2.5,
  distance: bake(exact, [-1.75, -3.1, -1.35], [1.75, 1.65, 1.35], 0.021),
  exact,
  material: (p, n) => {
    const [x, y, z] = p;
    const warp = 0.3 * noise3(x * 0.7, y * 0.35, z * 0.7);
    const ring = Math.hypot(x - 1.1 + warp, z + 0.4 + warp) * 11 + 0.5 * noise3(x * 3, y * 0.6, z * 3);
    const late =
      smoothstep(0.35, 0.95, ring - Math.floor(ring)) * smoothstep(1, 0.93, ring - Math.floor(ring));
    const fibre = fbm3(x * 34, y * 2.6, z * 34, 3);
    const patina = 0.5 + fbm3(x * 1.3, y * 1.3, z * 1.3, 3);
    const wood = mixVec([0.36, 0.185, 0.08], [0.235, 0.105, 0.042], 0.62 * late + 0.3 * patina);
    // Hollows: the field a little way out grows more slowly than the step.
    const out = 0.09;
    const open = clamp(exact(x + n[0] * out, y + n[1] * out, z + n[2] * out) / (0.85 * out));
    const tone = (1 + 0.28 * fibre) * mix(0.45, 1, open);
    return { albedo: scale(wood, tone), specular: 0.035 * mix(0.3, 1, open), shininess: 26 };
  },
};
