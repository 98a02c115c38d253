import { noise3 } from "./noise.js";
import { box, cylinder, limb } from "./sdf.js";
import { clamp, mixVec, scale, smoothstep, type Vec3 } from "./vec.js";
import type { Material, Solid } from "./world.js";

/** Lengths in metres. The boat floats at y = 0 with its bow along +z. */
export interface HullOptions {
  readonly length: number;
  readonly beam: number;
  readonly freeboard: number;
  readonly draught: number;
  /** Height of the boards one stands on. */
  readonly sole: number;
  readonly paint: Vec3;
  readonly band: Vec3;
}

const VARNISH: Vec3 = [0.3, 0.13, 0.045];
const BOOT_TOP: Vec3 = [0.16, 0.025, 0.02];

/** Painted or varnished wood with faint streaks. */
export const paint =
  (colour: Vec3, specular = 0.04, shininess = 60): Material =>
  (p) => {
    const wear =
      0.9 + 0.16 * noise3(p[0] * 2.1, p[1] * 9, p[2] * 2.1) + 0.06 * noise3(p[0] * 14, p[1] * 30, p[2] * 14);
    return { albedo: scale(colour, wear), specular, shininess };
  };

/** An open clinker hull with a transom, and its rubbing strake. */
export const hull = (o: HullOptions): Solid => {
  const half = o.length / 2;
  const sheer = (s: number): number => o.freeboard * (0.86 + 0.14 * s * s + (s > 0 ? 0.42 * s * s : 0));
  const deckWidth = (s: number): number => {
    const bow = clamp((s + 0.15) / 1.15) ** 2.3;
    const stern = clamp((-0.15 - s) / 0.85) ** 2;
    return (o.beam / 2) * (1 - bow) * (1 - 0.22 * stern);
  };
  const rise = (y: number, s: number): number => clamp((y + o.draught) / (sheer(s) + o.draught), 0, 1.2);
  /** Half-width at height y, station s in −1..1. */
  const width = (y: number, s: number): number => {
    const raked = s + (s > 0 ? 0.13 * s * (1 - clamp((y + o.draught) / (o.freeboard + o.draught))) : 0);
    const flare = 0.42 + 0.5 * clamp(s) ** 2;
    return deckWidth(clamp(raked, -1, 1)) * rise(y, s) ** flare;
  };
  return {
    centre: [0, o.freeboard * 0.35, 0],
    radius: half + o.freeboard * 0.6,
    distance: (x, y, z) => {
      const s = z / half;
      const w = width(y, clamp(s, -1, 1));
      const top = sheer(clamp(s, -1, 1));
      const side = (Math.abs(x) - w) * 0.72;
      const body = Math.max(side, (y - top) * 0.9, -(y + o.draught), -z - half, z - half);
      const inside = Math.max(side + 0.045, o.sole - y, -z - half + 0.08, z - half + 0.2);
      const strake = Math.max(Math.abs(y - top + 0.075) - 0.035, Math.abs(side) - 0.03, -z - half, z - half);
      return Math.min(Math.max(body, -inside), strake);
    },
    material: (p, n) => {
      const s = clamp(p[2] / half, -1, 1);
      const below = sheer(s) - p[1];
      const wear = 0.92 + 0.2 * noise3(p[0] * 1.3, p[1] * 6, p[2] * 1.3);
      if (Math.abs(p[0]) < width(p[1], s) - 0.02 || n[1] > 0.6) {
        const grain = 0.9 + 0.18 * noise3(p[0] * 20, p[1] * 3, p[2] * 1.5);
        return { albedo: scale(VARNISH, grain * wear), specular: 0.03, shininess: 30 };
      }
      if (below < 0.13) return { albedo: scale(o.band, wear), specular: 0.05, shininess: 80 };
      const t = rise(p[1], s) * 7;
      const seam = 1 - 0.4 * smoothstep(0.1, 0, t - Math.floor(t));
      const wet = smoothstep(0.02, 0.16, p[1]);
      const colour = mixVec(BOOT_TOP, o.paint, smoothstep(0.1, 0.12, p[1]));
      return { albedo: scale(colour, seam * wear * (0.45 + 0.55 * wet)), specular: 0.05, shininess: 90 };
    },
  };
};

/** A wheelhouse on the deck: white sides, dark panes, a varnished roof. Origin at deck level. */
export const wheelhouse = (width: number, height: number, depth: number): Solid => ({
  centre: [0, height / 2, 0],
  radius: Math.hypot(width, height, depth) * 0.62,
  distance: (x, y, z) => {
    const lean = z - 0.1 * y;
    const walls = box(x, y - height / 2, lean, width / 2, height / 2, depth / 2, 0.04);
    const roof = box(x, y - height - 0.03, lean - 0.05, width / 2 + 0.1, 0.045, depth / 2 + 0.16, 0.04);
    const px = Math.abs(Math.abs(x) - width * 0.24) - width * 0.19;
    const pane = Math.abs(y - height * 0.7) - height * 0.17;
    const pz = Math.abs(lean) - depth * 0.32;
    const recess = Math.max(
      pane,
      Math.min(Math.max(px, depth / 2 - 0.03 - Math.abs(lean)), Math.max(pz, width / 2 - 0.03 - Math.abs(x))),
    );
    return Math.min(Math.max(walls, -recess), roof);
  },
  material: (p) => {
    const lean = p[2] - 0.1 * p[1];
    if (p[1] > height - 0.03) return { albedo: scale(VARNISH, 0.8), specular: 0.05, shininess: 60 };
    const glass = Math.abs(p[0]) < width / 2 - 0.012 && Math.abs(lean) < depth / 2 - 0.012;
    if (glass) return { albedo: [0.012, 0.016, 0.02], specular: 0.12, shininess: 300 };
    const dirt = 0.86 + 0.14 * noise3(p[0] * 3, p[1] * 5, p[2] * 3);
    return { albedo: scale([0.76, 0.73, 0.66], dirt), specular: 0.04, shininess: 50 };
  },
});

/** A furled sail lashed along a boom from `a` to `b`. */
export const furledSail = (a: Vec3, b: Vec3, r: number): Solid => ({
  centre: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2],
  radius: Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / 2 + 2 * r,
  distance: (x, y, z) => {
    const lash = 0.82 + 0.18 * Math.abs(Math.sin(z * 4.2));
    return 0.8 * (limb(x, y * 0.8 + a[1] * 0.2, z, a, b, r, r * 0.55) + r * (1 - lash));
  },
  material: (p) => ({
    albedo: scale([0.72, 0.66, 0.55], 0.9 + 0.2 * noise3(p[0] * 9, p[1] * 22, p[2] * 5)),
    specular: 0.02,
    shininess: 12,
  }),
});

/** A hanging fender: a soft white cylinder. Origin at its middle. */
export const fender = (): Solid => ({
  centre: [0, 0, 0],
  radius: 0.42,
  distance: (x, y, z) => cylinder(x, y, z, 0.11, 0.28, 0.1),
  material: paint([0.7, 0.68, 0.62], 0.05, 40),
});
