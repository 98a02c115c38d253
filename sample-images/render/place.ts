import { limb } from "./sdf.js";
import { add, length, mixVec, scale, sub, type Vec3 } from "./vec.js";
import type { Material, Solid } from "./world.js";

/** Turns a point or direction about the upright axis by `yaw` radians from z towards x. */
export const turn = ([x, y, z]: Vec3, yaw: number): Vec3 => {
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  return [c * x + s * z, y, c * z - s * x];
};

/** Moves a solid built round its own origin to `at`, turned by `yaw` as in `turn`. */
export const place = (solid: Solid, at: Vec3, yaw: number): Solid => {
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  const turned =
    (f: Solid["distance"]): Solid["distance"] =>
    (x, y, z) => {
      const dx = x - at[0];
      const dz = z - at[2];
      return f(c * dx - s * dz, y - at[1], s * dx + c * dz);
    };
  return {
    centre: add(turn(solid.centre, yaw), at),
    radius: solid.radius,
    distance: turned(solid.distance),
    ...(solid.exact && { exact: turned(solid.exact) }),
    material: (p, n) => {
      const surface = solid.material(turn(sub(p, at), -yaw), turn(n, -yaw));
      return surface.normal ? { ...surface, normal: turn(surface.normal, yaw) } : surface;
    },
  };
};

/** A straight round bar. */
export const bar = (a: Vec3, b: Vec3, ra: number, rb: number, material: Material): Solid => ({
  centre: scale(add(a, b), 0.5),
  radius: length(sub(a, b)) / 2 + Math.max(ra, rb),
  distance: (x, y, z) => limb(x, y, z, a, b, ra, rb),
  material,
});

/** A rope of radius `r` from `a` to `b` that hangs `sag` metres below the straight line. */
export const hangingRope = (a: Vec3, b: Vec3, sag: number, r: number, material: Material): Solid[] => {
  const parts = 10;
  const point = (i: number): Vec3 => {
    const t = i / parts;
    const [x, y, z] = mixVec(a, b, t);
    return [x, y - 4 * sag * t * (1 - t), z];
  };
  return Array.from({ length: parts }, (_, i) => bar(point(i), point(i + 1), r, r, material));
};
