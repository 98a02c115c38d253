import { createImage, type Image } from "./image.js";
import { hash } from "./random.js";
import type { Relief } from "./relief.js";
import { add, clamp, dot, normalize, scale, type Vec3 } from "./vec.js";

/** The wall behind a relief: colour and a normal for each point. */
export type Wall = (x: number, y: number) => { readonly albedo: Vec3; readonly normal: Vec3 };

export interface ReliefLight {
  readonly toLamp: Vec3;
  readonly lamp: Vec3;
  /** Angular radius of the lamp, radians. */
  readonly spread: number;
  readonly sky: Vec3;
}

/** Tallest body above the wall, metres: rays above it are free. */
const TOP = 0.17;
const SKY_RAYS = 6;
const LAMP_RAYS = 3;

/** −0.5..0.5, the `i`th draw of a pixel. */
const jitter = (px: number, py: number, i: number): number => hash(px, py, i) - 0.5;

/** True if a ray from height `z` over pixel (x, y) meets a body; `step` is its stride in pixels. */
const blocked = (
  relief: Relief,
  x: number,
  y: number,
  z: number,
  d: Vec3,
  step: number,
  grow: number,
): boolean => {
  const { width, height, pxPerMetre, front, back } = relief;
  const flat = Math.hypot(d[0], d[1]) || 1e-6;
  const ux = d[0] / flat;
  const uy = -d[1] / flat;
  const climb = d[2] / flat / pxPerMetre;
  let stride = step;
  for (let s = step; ; s += stride) {
    const h = z + s * climb;
    if (h > TOP) return false;
    const px = Math.round(x + ux * s);
    const py = Math.round(y + uy * s);
    if (px < 0 || py < 0 || px >= width || py >= height) return false;
    const k = py * width + px;
    if (h < front[k] && h > back[k] - 0.001) return true;
    stride *= grow;
  }
};

/** Lights a relief seen from the front and averages `grid` × `grid` of its pixels into one of the image. */
export const lightRelief = (relief: Relief, wall: Wall, light: ReliefLight, grid: number): Image => {
  const width = Math.floor(relief.width / grid);
  const height = Math.floor(relief.height / grid);
  const image = createImage(width, height);
  const share = 1 / (grid * grid);
  for (let y = 0; y < height * grid; y++) {
    for (let x = 0; x < width * grid; x++) {
      const c = lightPixel(relief, wall, light, x, y);
      const i = 3 * (Math.floor(y / grid) * width + Math.floor(x / grid));
      for (let n = 0; n < 3; n++) image.data[i + n] += c[n] * share;
    }
  }
  return image;
};

const lightPixel = (relief: Relief, wall: Wall, light: ReliefLight, px: number, py: number): Vec3 => {
  const k = py * relief.width + px;
  const x = (px + 0.5 - relief.width / 2) / relief.pxPerMetre;
  const y = (relief.height / 2 - py - 0.5) / relief.pxPerMetre;
  const material = relief.owner[k] > 0 ? relief.materials[relief.owner[k] - 1] : undefined;
  const plain = material ? undefined : wall(x, y);
  let albedo = plain?.albedo ?? [0, 0, 0];
  let n = plain?.normal ?? [0, 0, 1];
  if (material) {
    const nx = relief.normalX[k];
    const ny = relief.normalY[k];
    const u = relief.u[k];
    const e = relief.e[k];
    albedo = material.colour(x, y, u, e);
    n = [nx, ny, Math.sqrt(Math.max(0, 1 - nx * nx - ny * ny))];
    if (material.lay > 0) {
      // Three strands laid up: the groove between two of them slants across the rope.
      const phase = Math.abs(Math.sin(Math.PI * (3 * u * material.lay - 0.55 * Math.asin(clamp(e, -1, 1)))));
      albedo = scale(albedo, 0.3 + 0.7 * phase ** 0.6);
    }
  }
  const start = relief.front[k] + 0.0008;
  const facing = Math.max(0, dot(n, light.toLamp));
  let lit = 0;
  for (let i = 0; facing > 0 && i < LAMP_RAYS; i++) {
    // One ray in each third of the lamp's width.
    const across = 2 * light.spread * ((i + 0.5 + jitter(px, py, i)) / LAMP_RAYS - 0.5);
    const along = 2 * light.spread * jitter(px, py, 5 + i);
    const [lx, ly, lz] = light.toLamp;
    const aim = normalize([lx - ly * across + lx * along, ly + lx * across + ly * along, lz]);
    if (!blocked(relief, px, py, start, aim, 2, 1.02)) lit += 1 / LAMP_RAYS;
  }
  let open = 0;
  for (let i = 0; i < SKY_RAYS; i++) {
    const turn = 2 * Math.PI * ((i + 0.5 + jitter(px, py, 10 + i)) / SKY_RAYS);
    // Every sixth of the heights once, in another order than the bearings.
    const sine = Math.sqrt((((5 * i + 2) % SKY_RAYS) + 0.5 + 0.98 * jitter(px, py, 20 + i)) / SKY_RAYS);
    const d: Vec3 = [sine * Math.cos(turn), sine * Math.sin(turn), Math.sqrt(1 - sine * sine)];
    if (!blocked(relief, px, py, start, d, 2.5, 1.3)) open += 1 / SKY_RAYS;
  }
  const skyShare = open * (0.62 + 0.25 * n[2] + 0.13 * n[1]);
  const arriving = add(scale(light.lamp, facing * lit), scale(light.sky, skyShare));
  const half = normalize([light.toLamp[0], light.toLamp[1], light.toLamp[2] + 1]);
  const glint = lit * (material?.specular ?? 0) * clamp(dot(n, half)) ** 60;
  return [
    albedo[0] * arriving[0] + glint * light.lamp[0],
    albedo[1] * arriving[1] + glint * light.lamp[1],
    albedo[2] * arriving[2] + glint * light.lamp[2],
  ];
};
