import { fbm2, noise2, noise3 } from "./noise.js";
import { hash } from "./random.js";
import { box } from "./sdf.js";
import { mix, mixVec, scale, smoothstep, type Vec3 } from "./vec.js";
import type { Material, Solid } from "./world.js";

/** Coursed stone: dressed blocks on the upright faces, slabs on top, weed below the tide line. */
export const masonry =
  (blockLength: number, blockHeight: number, tideHeight: number): Material =>
  (p, n) => {
    const top = n[1] > 0.7;
    const across = top || Math.abs(n[0]) > Math.abs(n[2]) ? p[2] : p[0];
    const upward = top ? p[0] : p[1];
    const course = Math.floor(upward / blockHeight);
    const shifted = across / blockLength + (course % 2 === 0 ? 0 : 0.5) + 0.2 * hash(course, 7);
    const column = Math.floor(shifted);
    const fx = shifted - column;
    const fy = upward / blockHeight - course;
    const joint = Math.min(Math.min(fx, 1 - fx) * blockLength, Math.min(fy, 1 - fy) * blockHeight);
    const rough = fbm2(across * 6, upward * 6, 4);
    const tone = 0.8 + 0.4 * hash(column, course, 3) + 0.45 * rough;
    const stone = scale(mixVec([0.3, 0.27, 0.23], [0.36, 0.34, 0.32], hash(column, course, 5)), tone);
    const jointed = scale(stone, mix(0.45, 1, smoothstep(0.005, 0.03, joint + 0.012 * rough)));
    const weed = smoothstep(
      tideHeight + 0.15,
      tideHeight - 0.25,
      p[1] + 0.25 * noise2(across * 2.2, upward * 3),
    );
    const wet = mixVec(
      jointed,
      mixVec([0.016, 0.022, 0.008], [0.05, 0.06, 0.02], 0.5 + rough),
      weed * (top ? 0 : 0.92),
    );
    return { albedo: wet, specular: 0.02 + 0.03 * weed, shininess: 25 };
  };

export const slab = (centre: Vec3, halfSize: Vec3, round: number, material: Material): Solid => ({
  centre,
  radius: Math.hypot(...halfSize),
  distance: (x, y, z) => box(x - centre[0], y - centre[1], z - centre[2], ...halfSize, round),
  material,
});

export interface HouseOptions {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  readonly wall: Vec3;
  readonly roof: Vec3;
  readonly seed: number;
  /** Windows glow. */
  readonly lamplight?: Vec3;
}

/** A gabled house with panes drawn into its walls; the ridge runs along z. Origin at its foot. */
export const house = (o: HouseOptions): Solid => {
  const { width, height, depth } = o;
  const slope = 0.75;
  const eaves = (x: number): number => height + (width / 2 - Math.abs(x)) * slope;
  return {
    centre: [0, height * 0.6, 0],
    radius: Math.hypot(width / 2 + 0.3, height * 0.6 + width * 0.25, depth / 2 + 0.3),
    distance: (x, y, z) => {
      const walls = Math.max(box(x, y - height, z, width / 2, height, depth / 2), (y - eaves(x)) * 0.8);
      const roof = Math.max(
        Math.abs(y - eaves(x) - 0.1) * 0.8 - 0.1,
        Math.abs(x) - width / 2 - 0.25,
        Math.abs(z) - depth / 2 - 0.25,
      );
      const chimney = box(x - width * 0.2, y - height - width * 0.36, z - depth * 0.2, 0.28, 0.75, 0.28);
      return Math.min(walls, roof, chimney);
    },
    material: (p, n) => {
      const speckle = 0.9 + 0.2 * noise3(p[0] * 1.7, p[1] * 1.7, p[2] * 1.7);
      if (p[1] > eaves(p[0]) - 0.02) {
        const row = Math.abs(p[0]) * 3.2;
        const tile = 0.8 + 0.3 * hash(Math.floor(row), Math.floor(p[2] * 3), o.seed);
        return { albedo: scale(o.roof, tile * speckle), specular: 0.03, shininess: 20 };
      }
      const onGable = Math.abs(n[2]) > Math.abs(n[0]);
      const across = onGable ? p[0] : p[2];
      const span = onGable ? width : depth;
      const gap = span / Math.max(2, Math.round(span / 1.9));
      const place = (across + span / 2) / gap;
      const bay = place - Math.floor(place) - 0.5;
      const storey = p[1] / 2.6 - Math.floor(p[1] / 2.6) - 0.55;
      const top = (Math.floor(p[1] / 2.6) + 0.55) * 2.6 + 0.62;
      const inBay = Math.abs(bay) * gap < 0.42 && Math.abs(storey) * 2.6 < 0.62 && top < height;
      const frame = Math.abs(bay) * gap > 0.34 || Math.abs(storey) * 2.6 > 0.54 || Math.abs(bay) * gap < 0.03;
      if (inBay && !frame) {
        const pane = { albedo: [0.02, 0.025, 0.03], specular: 0.1, shininess: 200 } as const;
        return o.lamplight ? { ...pane, emission: o.lamplight } : pane;
      }
      const rain = 0.9 + 0.15 * fbm2(across * 3, p[1] * 0.6, 3);
      return {
        albedo: inBay ? [0.7, 0.68, 0.64] : scale(o.wall, speckle * rain),
        specular: 0.02,
        shininess: 12,
      };
    },
  };
};
