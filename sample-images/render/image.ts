import { clamp, mixVec, type Vec3 } from "./vec.js";

/** Linear-light RGB, three numbers a pixel, row by row from the top left. */
export interface Image {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

export const createImage = (width: number, height: number): Image => ({
  width,
  height,
  data: new Float32Array(width * height * 3),
});

/** Light arriving through picture point (u, v); see `Camera` for the coordinates. */
export type Radiance = (u: number, v: number) => Vec3;

/** Brightest value one sample may add: keeps single glints from burning stair-steps into edges. */
const SAMPLE_LIMIT = 12;
/** Contrast between neighbours, relative to their sum, above which a pixel is sampled again. */
const EDGE_CONTRAST = 0.04;

/**
 * Renders one sample a pixel, then adds `grid` × `grid` samples where neighbours differ:
 * edges and texture get them, sky and smooth skin do not. The grid is sheared so that no two samples
 * share a column or a row, which grades near-upright and near-level edges best.
 */
export const renderImage = (width: number, height: number, grid: number, radiance: Radiance): Image => {
  const image = createImage(width, height);
  const { data } = image;
  const take = (px: number, py: number): Vec3 => {
    const c = radiance((px - width / 2) / height, py / height - 0.5);
    return [Math.min(c[0], SAMPLE_LIMIT), Math.min(c[1], SAMPLE_LIMIT), Math.min(c[2], SAMPLE_LIMIT)];
  };
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) data.set(take(x + 0.5, y + 0.5), i);
  }
  const busy = findBusyPixels(image);
  const share = 1 / (grid * grid + 1);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      if (!busy[k]) continue;
      let r = data[3 * k];
      let g = data[3 * k + 1];
      let b = data[3 * k + 2];
      for (let s = 0; s < grid * grid; s++) {
        const column = s % grid;
        const row = Math.floor(s / grid);
        const jx = (column + (row + 0.5) / grid) / grid;
        const jy = (row + (grid - column - 0.5) / grid) / grid;
        const c = take(x + jx, y + jy);
        r += c[0];
        g += c[1];
        b += c[2];
      }
      data[3 * k] = r * share;
      data[3 * k + 1] = g * share;
      data[3 * k + 2] = b * share;
    }
  }
  return image;
};

const findBusyPixels = ({ width, height, data }: Image): Uint8Array => {
  const busy = new Uint8Array(width * height);
  const compare = (a: number, b: number): void => {
    for (let c = 0; c < 3; c++) {
      const p = data[3 * a + c];
      const q = data[3 * b + c];
      if (Math.abs(p - q) > EDGE_CONTRAST * (p + q) + 1e-4) {
        busy[a] = 1;
        busy[b] = 1;
        return;
      }
    }
  };
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      if (x + 1 < width) compare(k, k + 1);
      if (y + 1 < height) compare(k, k + width);
    }
  }
  return busy;
};

/** Bilinear reading at picture point (u, v). */
export const readImage = ({ width, height, data }: Image, u: number, v: number): Vec3 => {
  const x = clamp(u * height + width / 2 - 0.5, 0, width - 1.001);
  const y = clamp((v + 0.5) * height - 0.5, 0, height - 1.001);
  const i = 3 * (Math.floor(y) * width + Math.floor(x));
  const fx = x - Math.floor(x);
  const top = mixVec(readPixel(data, i), readPixel(data, i + 3), fx);
  const bottom = mixVec(readPixel(data, i + 3 * width), readPixel(data, i + 3 * width + 3), fx);
  return mixVec(top, bottom, y - Math.floor(y));
};

const readPixel = (data: Float32Array, i: number): Vec3 => [data[i], data[i + 1], data[i + 2]];

/** Three running means in each direction: close to a Gaussian of standard deviation `sigmaPx`. */
export const blur = (source: Image, sigmaPx: number): Image => {
  const { width, height } = source;
  const radius = Math.max(1, Math.round((Math.sqrt(4 * sigmaPx * sigmaPx + 1) - 1) / 2));
  const from = Float32Array.from(source.data);
  const to = new Float32Array(from.length);
  for (let pass = 0; pass < 3; pass++) {
    runningMean(from, to, height, width, 3 * width, 3, radius);
    runningMean(to, from, width, height, 3, 3 * width, radius);
  }
  return { width, height, data: from };
};

/** Mean over 2·radius + 1 neighbours along each of `lines` lines; the ends repeat the last value. */
const runningMean = (
  from: Float32Array,
  to: Float32Array,
  lines: number,
  count: number,
  lineStride: number,
  stride: number,
  radius: number,
): void => {
  const share = 1 / (2 * radius + 1);
  for (let line = 0; line < lines; line++) {
    for (let c = 0; c < 3; c++) {
      const base = line * lineStride + c;
      const last = count - 1;
      let sum = 0;
      for (let k = -radius; k <= radius; k++) sum += from[base + Math.min(Math.max(k, 0), last) * stride];
      for (let i = 0; i < count; i++) {
        to[base + i * stride] = sum * share;
        const enter = Math.min(i + radius + 1, last);
        const leave = Math.max(i - radius, 0);
        sum += from[base + enter * stride] - from[base + leave * stride];
      }
    }
  }
};
