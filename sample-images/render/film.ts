import { blur, type Image } from "./image.js";
import { createRandom, normal } from "./random.js";

/** How a linear-light image becomes a photograph. */
export interface Film {
  /** Stops added before the curve. */
  readonly exposure: number;
  /** Slope of the curve; 1 is flat, 1.3 a normal print. */
  readonly contrast: number;
  /** Linear light that just reaches paper white. */
  readonly white: number;
  /** Share of the light scattered in the lens, 0..1. */
  readonly bloom: number;
  /** Darkening at the corners, 0..1. */
  readonly vignette: number;
  /** Standard deviation of the grain in mid-grey, in 8-bit steps. */
  readonly grain: number;
  /** 1 keeps the colours, 0 is grey. */
  readonly saturation: number;
}

/** sRGB encoding of linear light 0..1 (IEC 61966-2-1). */
export const encodeSrgb = (v: number): number =>
  v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055;

const GREY = 0.18;

/**
 * Saturating response k·xᵍ / (xᵍ + s) (K. I. Naka and W. A. Rushton, 1966), with k and s solved so
 * that grey 0.18 stays 0.18 and `white` becomes 1: a soft toe and a soft shoulder.
 */
export const createToneCurve = (contrast: number, white: number): ((x: number) => number) => {
  const grey = GREY ** contrast;
  const top = white ** contrast;
  const s = ((1 - GREY) * top * grey) / (GREY * top - grey);
  const k = (top + s) / top;
  return (x) => {
    const p = Math.max(x, 0) ** contrast;
    return Math.min((k * p) / (p + s), 1);
  };
};

/** Develops to 8-bit sRGB, three bytes a pixel. */
export const develop = (image: Image, film: Film, seed: number): Uint8Array => {
  const { width, height, data } = image;
  const glow = blur(image, height * 0.012).data;
  const veil = blur(image, height * 0.05).data;
  const curve = createToneCurve(film.contrast, film.white);
  const gain = 2 ** film.exposure;
  const random = createRandom(seed);
  const grains = Float32Array.from({ length: width * (height + 1) }, () => normal(random));
  const out = new Uint8Array(width * height * 3);
  const rgb = [0, 0, 0];
  for (let y = 0, i = 0; y < height; y++) {
    const v = (2 * y) / height - 1;
    for (let x = 0; x < width; x++, i += 3) {
      const u = (2 * x) / width - 1;
      const edge = gain * (1 - film.vignette * ((u * u + v * v) / 2) ** 1.3);
      for (let c = 0; c < 3; c++) {
        const scattered = 0.6 * glow[i + c] + 0.4 * veil[i + c];
        rgb[c] = curve(edge * (data[i + c] + film.bloom * (scattered - data[i + c])));
      }
      const grey = 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
      const k = y * width + x;
      // Two neighbours share a grain, which makes clumps a little larger than a pixel.
      const grain = (film.grain * (grains[k] + 0.8 * grains[k + width])) / 1.28;
      const weight = 0.35 + 1.3 * Math.sqrt(grey) * (1 - grey);
      for (let c = 0; c < 3; c++) {
        const level = 255 * encodeSrgb(Math.max(0, grey + film.saturation * (rgb[c] - grey)));
        out[i + c] = Math.min(255, Math.max(0, Math.round(level + grain * weight)));
      }
    }
  }
  return out;
};
