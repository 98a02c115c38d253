import { blur, createImage, type Image } from "./image.js";
import { hash } from "./random.js";
import { clamp, type Vec3 } from "./vec.js";

const GOLDEN_ANGLE = Math.PI * (3 - Math.sqrt(5));
const MAX_TAPS = 110;
/** Circles wider than this read a slightly blurred source, or the gaps between taps would show as noise. */
const WIDE_PX = 10;

/**
 * Spreads each pixel over its circle of confusion by gathering on a sunflower of taps.
 * `radiusPx` holds one circle radius a pixel. A sharper neighbour does not leak into a softer pixel
 * from further off than its own circle.
 */
export const defocus = (source: Image, radiusPx: Float32Array): Image => {
  const { width, height } = source;
  const smooth = blur(source, 2.5).data;
  const out = createImage(width, height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const r = radiusPx[k];
      const data = r > WIDE_PX ? smooth : source.data;
      const taps = Math.min(MAX_TAPS, Math.max(1, Math.ceil(1.2 * r * r)));
      const turn = 2 * Math.PI * hash(x, y, 77);
      let red = 0;
      let green = 0;
      let blue = 0;
      let weight = 0;
      for (let i = 0; i < taps; i++) {
        const reach = taps === 1 ? 0 : r * Math.sqrt((i + 0.5) / taps);
        const angle = turn + i * GOLDEN_ANGLE;
        const sx = Math.min(Math.max(Math.round(x + reach * Math.cos(angle)), 0), width - 1);
        const sy = Math.min(Math.max(Math.round(y + reach * Math.sin(angle)), 0), height - 1);
        const s = sy * width + sx;
        const w = radiusPx[s] + 1 >= reach ? 1 : 0.02;
        red += w * data[3 * s];
        green += w * data[3 * s + 1];
        blue += w * data[3 * s + 2];
        weight += w;
      }
      out.data[3 * k] = red / weight;
      out.data[3 * k + 1] = green / weight;
      out.data[3 * k + 2] = blue / weight;
    }
  }
  return out;
};

/** Adds points of light far out of focus: each becomes an even disc, a little brighter at its rim. */
export const addGlints = (
  image: Image,
  points: readonly { readonly x: number; readonly y: number; readonly strength: number }[],
  radiusPx: number,
  colour: Vec3,
): void => {
  const { width, height, data } = image;
  for (const { x, y, strength } of points) {
    for (let py = Math.max(0, Math.floor(y - radiusPx - 1)); py < Math.min(height, y + radiusPx + 1); py++) {
      for (let px = Math.max(0, Math.floor(x - radiusPx - 1)); px < Math.min(width, x + radiusPx + 1); px++) {
        const r = Math.hypot(px + 0.5 - x, py + 0.5 - y);
        const cover = strength * clamp(radiusPx + 0.5 - r) * (0.8 + 0.3 * (r / radiusPx) ** 4);
        for (let c = 0; c < 3; c++) data[3 * (py * width + px) + c] += cover * colour[c];
      }
    }
  }
};
