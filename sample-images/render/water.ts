import { fbm2, noise2 } from "./noise.js";
import { normalize, smoothstep, type Vec3 } from "./vec.js";

/** Height of the ripples in metres. `cross` stretches the crests along x. */
const height = (x: number, z: number, octaves: number): number => {
  const sweep = 0.6 * noise2(x * 0.08, z * 0.11);
  return (
    0.55 * fbm2(x * 0.55 + sweep, z * 1.35 + sweep, octaves) +
    0.16 * Math.sin(1.9 * z + 0.5 * x + 3 * sweep) +
    0.22 * fbm2(x * 2.3, z * 4.1, Math.max(octaves - 2, 1))
  );
};

/**
 * Unit normal of rippled water at (x, z). `slope` scales the ripples; `footprint` is the pixel size on
 * the water in metres, and ripples finer than it are left out.
 */
export const waterNormal = (x: number, z: number, slope: number, footprint: number): Vec3 => {
  const octaves = footprint < 0.03 ? 4 : footprint < 0.12 ? 3 : 2;
  const e = Math.max(0.02, footprint);
  const h = height(x, z, octaves);
  // Gusts leave patches of smoother water.
  const gust = 0.45 + 0.55 * smoothstep(-0.25, 0.35, fbm2(x * 0.07 + 4, z * 0.16, 3));
  const k = (slope * gust) / e;
  return normalize([k * (h - height(x + e, z, octaves)), 1, k * (h - height(x, z + e, octaves))]);
};

/** Reflectance of water seen at cosine `c` from the normal (C. Schlick, 1994; refractive index 1.33). */
export const waterReflectance = (c: number): number => 0.02 + 0.98 * (1 - c) ** 5;
