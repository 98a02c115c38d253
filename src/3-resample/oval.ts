/**
 * Distance from a point inside an oval (an ellipse around the origin with semi-axes a along x and b along y) to the nearest
 * point of the oval; −1 for any point outside.
 *
 * The nearest point (a²x/(t + a²), b²y/(t + b²)) has t as the largest root of
 *
 *     F(t) = (a x/(t + a²))² + (b y/(t + b²))² − 1
 *
 * D. Eberly, "Distance from a point to an ellipse, an ellipsoid, or a hyperellipsoid" (2013), section 2. F falls and is convex
 * to the right of its last pole. So Newton's method, started where F is not negative, rises to the root and never passes it.
 */
export function depthInOval(x: number, y: number, a: number, b: number): number {
  const [px, py] = [Math.abs(x), Math.abs(y)];
  if ((px / a) ** 2 + (py / b) ** 2 >= 1) return -1;
  return a >= b ? depth(px, py, a, b) : depth(py, px, b, a);
}

/** In the first quadrant, inside, with a ≥ b. */
function depth(x: number, y: number, a: number, b: number): number {
  const aa = a * a;
  const bb = b * b;
  if (y === 0) {
    // Between the centres of curvature of its ends, the nearest point is not on the long axis.
    const footX = (aa * x) / (aa - bb);
    if (!(footX < a)) return a - x;
    return Math.hypot(x - footX, b * Math.sqrt(1 - (footX / a) ** 2));
  }
  let t = b * y - bb;
  for (let i = 0; i < MAX_STEPS; i++) {
    const u = (a * x) / (t + aa);
    const v = (b * y) / (t + bb);
    const f = u * u + v * v - 1;
    const slope = -2 * ((u * u) / (t + aa) + (v * v) / (t + bb));
    const next = t - f / slope;
    if (!(next > t)) break;
    t = next;
  }
  return Math.hypot(x - (aa * x) / (t + aa), y - (bb * y) / (t + bb));
}

const MAX_STEPS = 60;
