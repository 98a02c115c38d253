import { encodeSrgb } from "./film.js";

const STEPS = 21;
const STEP_WIDTH_PX = 80;
const STEP_HEIGHT_PX = 240;
const RAMP_HEIGHT_PX = 160;

/** CIE 1976 lightness 0..100 to relative luminance 0..1 (CIE 15:2004, exact rational constants). */
const luminanceOfLightness = (lightness: number): number =>
  lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389;

const level = (lightness: number): number => Math.round(65535 * encodeSrgb(luminanceOfLightness(lightness)));

/**
 * Twenty-one steps of equal L* from 0 (left) to 100 (right), above a ramp whose L* rises linearly
 * from the centre of the first pixel to that of the last. 16-bit sRGB-encoded grey.
 */
export const drawStepWedge = (): { width: number; height: number; levels: Uint16Array } => {
  const width = STEPS * STEP_WIDTH_PX;
  const height = STEP_HEIGHT_PX + RAMP_HEIGHT_PX;
  const levels = new Uint16Array(width * height);
  for (let x = 0; x < width; x++) {
    const step = level((100 * Math.floor(x / STEP_WIDTH_PX)) / (STEPS - 1));
    const ramp = level((100 * x) / (width - 1));
    for (let y = 0; y < height; y++) levels[y * width + x] = y < STEP_HEIGHT_PX ? step : ramp;
  }
  return { width, height, levels };
};
