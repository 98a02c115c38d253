import { hash } from "./random.js";
import { clamp, normalize, type Vec3 } from "./vec.js";

/** What a material says of one point of a surface. */
export interface Surface {
  /** Diffuse reflectance, linear RGB 0..1. */
  readonly albedo: Vec3;
  /** Share of a mirror's reflection seen head on; about 0.04 for varnish and wet stone. */
  readonly specular: number;
  /** Blinn exponent: 8 is satin, 200 is polished. */
  readonly shininess: number;
  readonly emission?: Vec3;
  /** Replaces the geometric normal, for relief finer than the distance field carries. */
  readonly normal?: Vec3;
}

export type Material = (p: Vec3, n: Vec3) => Surface;

/** A shape with a sphere around it, so that rays can pass it by cheaply. */
export interface Solid {
  readonly centre: Vec3;
  readonly radius: number;
  readonly distance: (x: number, y: number, z: number) => number;
  /** Field to take normals from, where `distance` is only a baked reading of it. */
  readonly exact?: (x: number, y: number, z: number) => number;
  readonly material: Material;
}

export interface Hit {
  readonly t: number;
  readonly solid: Solid;
}

/** Share of each distance that a step covers; the slack pays for the approximate shapes. */
const STEP = 0.9;
const MAX_STEPS = 160;

/** Distance to the solid, or to its bounding sphere from well outside that. */
const boundedDistance = (s: Solid, x: number, y: number, z: number): number => {
  const dx = x - s.centre[0];
  const dy = y - s.centre[1];
  const dz = z - s.centre[2];
  const toSphere = Math.sqrt(dx * dx + dy * dy + dz * dz) - s.radius;
  return toSphere > 0.5 ? toSphere : s.distance(x, y, z);
};

/** A set of solids that rays can meet. Lengths in metres, directions of unit length. */
export class World {
  readonly #solids: readonly Solid[];
  readonly #active: Solid[] = [];
  /** Where the ray last gathered leaves the last of its solids. */
  #end = 0;

  constructor(solids: readonly Solid[]) {
    this.#solids = solids;
  }

  /** Distance to the nearest solid; solids further than `limit` may be left out. */
  distance(x: number, y: number, z: number, limit: number): number {
    let best = limit;
    for (const s of this.#solids) {
      const c = s.centre;
      const dx = x - c[0];
      const dy = y - c[1];
      const dz = z - c[2];
      const reach = best + s.radius;
      if (dx * dx + dy * dy + dz * dz > reach * reach) continue;
      const d = s.distance(x, y, z);
      if (d < best) best = d;
    }
    return best;
  }

  /** Nearest meeting of the ray with a solid within `far`; `cone` is the pixel's half-width per metre. */
  trace(o: Vec3, d: Vec3, far: number, cone = 2e-4): Hit | undefined {
    const start = this.#gather(o, d, far);
    const active = this.#active;
    const end = Math.min(far, this.#end);
    let t = start;
    for (let i = 0; i < MAX_STEPS && t < end; i++) {
      const x = o[0] + d[0] * t;
      const y = o[1] + d[1] * t;
      const z = o[2] + d[2] * t;
      let best = far;
      let nearest: Solid | undefined;
      for (const s of active) {
        const reached = boundedDistance(s, x, y, z);
        if (reached < best) {
          best = reached;
          nearest = s;
        }
      }
      if (nearest && best < cone * t) return { t: polish(nearest, o, d, t), solid: nearest };
      t += best * STEP;
    }
    return undefined;
  }

  /**
   * Share 0..1 of a light of angular radius `spread` (radians) left after the solids between.
   * The nearest miss sets the penumbra. `grain` is the shortest step, metres.
   */
  light(o: Vec3, d: Vec3, far: number, spread: number, grain: number): number {
    const start = this.#gather(o, d, far);
    const active = this.#active;
    let open = 1;
    // A first step of its own for each point turns the bands between steps into grain.
    let t = Math.max(start, grain * (0.6 + 1.8 * hash(o[0] * 1e5, o[1] * 1e5, o[2] * 1e5)));
    const end = Math.min(far, this.#end);
    for (let i = 0; i < 80 && t < end; i++) {
      const x = o[0] + d[0] * t;
      const y = o[1] + d[1] * t;
      const z = o[2] + d[2] * t;
      let best = far;
      for (const s of active) {
        const v = boundedDistance(s, x, y, z);
        if (v < best) best = v;
      }
      open = Math.min(open, 0.5 + (0.5 * best) / (spread * t));
      if (open < 0.01) return 0;
      t += clamp(best * 0.7, grain + t * 0.01, 4);
    }
    const s = clamp(open);
    return s * s * (3 - 2 * s);
  }

  /** Share 0..1 of the sky seen from `p`, from the distances met along the normal up to `reach`. */
  openness(p: Vec3, n: Vec3, reach: number): number {
    let lost = 0;
    let weight = 0.55;
    for (let i = 1; i <= 5; i++) {
      const h = reach * (i / 5) ** 1.6;
      const d = this.distance(p[0] + n[0] * h, p[1] + n[1] * h, p[2] + n[2] * h, h);
      lost += (weight * (h - d)) / h;
      weight *= 0.72;
    }
    return clamp(1 - lost * 0.72) ** 1.2;
  }

  /** Collects the solids whose spheres the ray enters; returns where the first one begins. */
  #gather(o: Vec3, d: Vec3, far: number): number {
    const active = this.#active;
    active.length = 0;
    this.#end = 0;
    let start = far;
    for (const s of this.#solids) {
      const cx = s.centre[0] - o[0];
      const cy = s.centre[1] - o[1];
      const cz = s.centre[2] - o[2];
      const b = cx * d[0] + cy * d[1] + cz * d[2];
      const inside = b * b - (cx * cx + cy * cy + cz * cz) + s.radius * s.radius;
      if (inside < 0) continue;
      const half = Math.sqrt(inside);
      if (b + half < 0 || b - half > far) continue;
      active.push(s);
      start = Math.min(start, Math.max(b - half, 0));
      this.#end = Math.max(this.#end, b + half);
    }
    return start;
  }
}

/** Walks the last stretch on the exact field, where the marcher stopped on a baked one. */
const polish = (solid: Solid, o: Vec3, d: Vec3, t: number): number => {
  if (!solid.exact) return t;
  let refined = t;
  for (let i = 0; i < 4; i++) {
    refined += solid.exact(o[0] + d[0] * refined, o[1] + d[1] * refined, o[2] + d[2] * refined);
  }
  // A grazing ray can slip past a crest that the baked field had filled in.
  return Math.abs(refined - t) < 0.1 ? refined : t;
};

/** Outward normal by central differences over `h` metres. */
export const normalAt = (solid: Solid, p: Vec3, h: number): Vec3 => {
  const [x, y, z] = p;
  const f = solid.exact ?? solid.distance;
  return normalize([
    f(x + h, y, z) - f(x - h, y, z),
    f(x, y + h, z) - f(x, y - h, z),
    f(x, y, z + h) - f(x, y, z - h),
  ]);
};
