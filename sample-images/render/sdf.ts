import { clamp, type Vec3 } from "./vec.js";

// Signed distances in metres, negative inside. Scalars in, scalar out: no allocation per step.
// The shapes are standard constructions of distance-field modelling (J. C. Hart, "Sphere tracing",
// 1996, gives the method); those marked approximate are bounded by the slack in the marcher's step.

/** Union with a fillet of about `k` metres. */
export const blend = (a: number, b: number, k: number): number => {
  const h = Math.max(k - Math.abs(a - b), 0) / k;
  return Math.min(a, b) - h * h * k * 0.25;
};

/** Takes `b` out of `a` with a fillet of about `k` metres. */
export const carve = (a: number, b: number, k: number): number => -blend(-a, b, k);

/** Math.hypot guards against overflow at several times the cost. */
const norm = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);

export const sphere = (x: number, y: number, z: number, r: number): number => norm(x, y, z) - r;

/** Ellipsoid with semi-axes a, b, c: first-order distance, approximate. */
export const ellipsoid = (x: number, y: number, z: number, a: number, b: number, c: number): number => {
  const k0 = norm(x / a, y / b, z / c);
  const k1 = norm(x / (a * a), y / (b * b), z / (c * c));
  return k1 < 1e-9 ? -Math.min(a, b, c) : (k0 * (k0 - 1)) / k1;
};

/** Box of half-sizes a, b, c with edges rounded by `r` (included in the half-sizes). */
export const box = (x: number, y: number, z: number, a: number, b: number, c: number, r = 0): number => {
  const qx = Math.abs(x) - a + r;
  const qy = Math.abs(y) - b + r;
  const qz = Math.abs(z) - c + r;
  const outside = norm(Math.max(qx, 0), Math.max(qy, 0), Math.max(qz, 0));
  return outside + Math.min(Math.max(qx, qy, qz), 0) - r;
};

/** Upright cylinder of half-height `h`, edges rounded by `round`. */
export const cylinder = (x: number, y: number, z: number, r: number, h: number, round = 0): number => {
  const qr = Math.sqrt(x * x + z * z) - r + round;
  const qy = Math.abs(y) - h + round;
  const outside = norm(Math.max(qr, 0), Math.max(qy, 0), 0);
  return outside + Math.min(Math.max(qr, qy), 0) - round;
};

/** Ring in the horizontal plane: centre-line radius `ring`, section radius `r`. */
export const torus = (x: number, y: number, z: number, ring: number, r: number): number =>
  norm(Math.sqrt(x * x + z * z) - ring, y, 0) - r;

/** Segment from `a` to `b` whose radius runs from `ra` to `rb`: approximate when they differ. */
export const limb = (
  x: number,
  y: number,
  z: number,
  a: Vec3,
  b: Vec3,
  ra: number,
  rb: number = ra,
): number => {
  const bx = b[0] - a[0];
  const by = b[1] - a[1];
  const bz = b[2] - a[2];
  const px = x - a[0];
  const py = y - a[1];
  const pz = z - a[2];
  const t = clamp((px * bx + py * by + pz * bz) / (bx * bx + by * by + bz * bz));
  return norm(px - bx * t, py - by * t, pz - bz * t) - ra - (rb - ra) * t;
};
