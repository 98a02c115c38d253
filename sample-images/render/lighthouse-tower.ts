import { paint } from "./boats.js";
import { fbm2, noise3 } from "./noise.js";
import { blend, cylinder, ellipsoid, torus } from "./sdf.js";
import { add, clamp, dot, length, mix, scale, smoothstep, sub, type Vec3 } from "./vec.js";
import type { Material, Solid } from "./world.js";

/** Foot of the tower and the lamp, metres. */
const FOOT: Vec3 = [3, 6.2, 4];
const TOWER_HEIGHT = 17.5;
export const LAMP: Vec3 = [FOOT[0], FOOT[1] + TOWER_HEIGHT + 1.7, FOOT[2]];
export const LAMP_COLOUR: Vec3 = [1, 0.78, 0.45];

/** Adds the lamp's own light, falling off with the square of distance, to a material. */
export const nearLamp =
  (material: Material, strength: number): Material =>
  (p, n) => {
    const surface = material(p, n);
    const toLamp = sub(LAMP, p);
    const far = length(toLamp);
    const facing = clamp((dot(n, toLamp) / far) * 0.8 + 0.2);
    const c = surface.albedo;
    const k = (strength * facing) / (far * far + 0.4);
    const glow: Vec3 = [c[0] * LAMP_COLOUR[0] * k, c[1] * LAMP_COLOUR[1] * k, c[2] * LAMP_COLOUR[2] * k];
    return { ...surface, emission: surface.emission ? add(surface.emission, glow) : glow };
  };

const towerRadius = (y: number): number => mix(2.75, 1.65, clamp(y / TOWER_HEIGHT) ** 0.85);

/** A narrow window at height `h`, bearing `a`, through the wall only. */
const slit = (y: number, angle: number, r: number, h: number, a: number): number =>
  Math.max(Math.abs(y - h) - 0.55, Math.abs(angle - a) * r - 0.3, 1.2 - r);

export const tower: Solid = {
  centre: [FOOT[0], FOOT[1] + TOWER_HEIGHT / 2, FOOT[2]],
  radius: TOWER_HEIGHT / 2 + 3.4,
  distance: (px, py, pz) => {
    const x = px - FOOT[0];
    const y = py - FOOT[1];
    const z = pz - FOOT[2];
    const r = Math.sqrt(x * x + z * z);
    const shaft = Math.max((r - towerRadius(y)) * 0.95, y - TOWER_HEIGHT, -y - 2);
    const plinth = cylinder(x, y, z, 3.1, 0.7, 0.08);
    const cornice =
      Math.max(
        r - 1.65 - 0.9 * smoothstep(-1.3, 0, y - TOWER_HEIGHT),
        Math.abs(y - TOWER_HEIGHT + 0.55) - 0.75,
      ) * 0.7;
    const deck = cylinder(x, y - TOWER_HEIGHT - 0.28, z, 2.75, 0.14, 0.05);
    const body = Math.min(blend(shaft, cornice, 0.2), plinth, deck);
    const angle = Math.atan2(x, -z);
    // Three slit windows climb the shaft where the picture sees them.
    const windows = Math.min(
      slit(y, angle, r, 4.5, 0.25),
      slit(y, angle, r, 9, -0.2),
      slit(y, angle, r, 13.2, 0.2),
    );
    const door = Math.max(Math.abs(y - 1.1) - 1.15, Math.abs(angle + 0.1) * r - 0.55, 2 - r);
    return Math.max(body, -Math.max(Math.min(windows, door), towerRadius(y) - 0.22 - r));
  },
  material: nearLamp((p, n) => {
    const y = p[1] - FOOT[1];
    const r = Math.hypot(p[0] - FOOT[0], p[2] - FOOT[2]);
    const recessed = y < TOWER_HEIGHT - 1.4 && r < towerRadius(y) - 0.12;
    if (recessed)
      return {
        albedo: [0.03, 0.02, 0.015],
        specular: 0.05,
        shininess: 60,
        emission: y > 3.5 ? [0.5, 0.3, 0.11] : [0, 0, 0],
      };
    const angle = Math.atan2(p[0] - FOOT[0], p[2] - FOOT[2]);
    const rain = 0.82 + 0.26 * fbm2(angle * 16, y * 0.35, 4) + 0.12 * noise3(p[0] * 3, p[1] * 3, p[2] * 3);
    const white: Vec3 = [0.74, 0.72, 0.68];
    const red: Vec3 = [0.36, 0.045, 0.03];
    const banded = (y > 6 && y < 9.9) || y > TOWER_HEIGHT - 1.3 ? red : white;
    const stain = smoothstep(2.2, -0.6, y) * 0.35 + (n[1] < -0.3 ? 0.2 : 0);
    return { albedo: scale(banded, rain * (1 - stain)), specular: 0.03, shininess: 30 };
  }, 6),
};

export const lantern: Solid = {
  centre: [LAMP[0], LAMP[1] + 0.7, LAMP[2]],
  radius: 3.6,
  distance: (px, py, pz) => {
    const x = px - LAMP[0];
    const y = py - LAMP[1];
    const z = pz - LAMP[2];
    const r = Math.sqrt(x * x + z * z);
    const a = Math.atan2(z, x);
    const sector = Math.PI / 4;
    const bars = Math.abs(a - sector * Math.round(a / sector)) * r;
    const frame =
      Math.max(Math.abs(r - 1.3) - 0.06, Math.min(bars - 0.05, Math.abs(y - 0.1) - 0.04), Math.abs(y) - 1.3) *
      0.8;
    const sill = cylinder(x, y + 1.2, z, 1.45, 0.2, 0.05);
    const crown = cylinder(x, y - 1.3, z, 1.6, 0.1, 0.05);
    const dome = Math.max(ellipsoid(x, y - 1.35, z, 1.45, 1.15, 1.45), 1.35 - y);
    const ball = Math.min(Math.hypot(x, y - 2.6, z) - 0.2, cylinder(x, y - 3, z, 0.045, 0.7));
    const post = sector / 2;
    const posts =
      Math.max(
        Math.abs(a - post * Math.round(a / post)) * r - 0.03,
        Math.abs(r - 2.6) - 0.03,
        Math.abs(y + 0.85) - 0.55,
      ) * 0.8;
    const rails = Math.min(torus(x, y + 0.32, z, 2.6, 0.035), torus(x, y + 0.7, z, 2.6, 0.022));
    return Math.min(frame, sill, crown, dome, ball, posts, rails);
  },
  material: nearLamp(paint([0.1, 0.03, 0.025], 0.06, 60), 9),
};

export const lamp: Solid = {
  centre: LAMP,
  radius: 1.2,
  distance: (x, y, z) => ellipsoid(x - LAMP[0], y - LAMP[1], z - LAMP[2], 0.62, 0.95, 0.62),
  material: (p) => {
    const rings = 0.8 + 0.35 * Math.sin((p[1] - LAMP[1]) * 22);
    return { albedo: [0.2, 0.2, 0.2], specular: 0, shininess: 1, emission: scale([9, 6.6, 3.6], rings) };
  },
};
