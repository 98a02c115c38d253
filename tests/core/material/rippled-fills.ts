import type { ResponsePoints } from "../../../src/core/material/response.js";

/*
 * Fills and tints by brute force: sums of Gaussians at many places, and the mean of a response over them. Nothing here comes from
 * the product.
 */

/** Luminance factor by dose. */
export type Truth = (dose: number) => number;

/** The mean luminance factor of parallel lines, at 4000 places across one pitch. */
export function fillLuminance(truth: Truth, meanDose: number, pitchMm: number, spotMm: number): number {
  const places = 4000;
  const sigmaMm = spotMm / 4;
  let sum = 0;
  for (let i = 0; i < places; i++) {
    const yMm = ((i + 0.5) / places) * pitchMm;
    let perMm = 0;
    for (let line = -12; line <= 12; line++) {
      perMm += Math.exp(-((yMm - line * pitchMm) ** 2) / (2 * sigmaMm ** 2));
    }
    sum += truth((meanDose * pitchMm * perMm) / (sigmaMm * Math.sqrt(2 * Math.PI)));
  }
  return sum / places;
}

/** What somebody would measure who burns fills of these doses. */
export const measuredTable = (
  truth: Truth,
  doses: readonly number[],
  pitchMm: number,
  spotMm: number,
): ResponsePoints => doses.map((dose) => [dose, fillLuminance(truth, dose, pitchMm, spotMm)] as const);

/** Order of the pixels of a 4 × 4 tile, from dispersed dots to one clustered dot. */
const orders = {
  dispersed: [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5],
  clustered: [12, 5, 6, 13, 4, 0, 1, 7, 11, 3, 2, 8, 15, 10, 9, 14],
} as const;

const SIDE = 4;
const SAMPLES = 8;
const REACH_PX = 4;

/**
 * Doses of every tint k/16, k = 1 to 15, in both orders, at 8 × 8 places of each pixel of a tile that repeats without end. A pixel
 * is eight short pulses along its line.
 */
export function tintDoses(pitchMm: number, spotMm: number): Float64Array[] {
  const profile = pixelProfile(pitchMm, spotMm / 4);
  return Object.values(orders).flatMap((order) =>
    Array.from({ length: SIDE * SIDE - 1 }, (_, k) =>
      tileDoses((x, y) => order[(y % SIDE) * SIDE + (x % SIDE)] <= k, profile),
    ),
  );
}

interface Profile {
  readonly along: (px: number) => number;
  readonly across: (px: number) => number;
}

function pixelProfile(pitchMm: number, sigmaMm: number): Profile {
  const gauss = (mm: number) =>
    (pitchMm * Math.exp(-(mm ** 2) / (2 * sigmaMm ** 2))) / (sigmaMm * Math.sqrt(2 * Math.PI));
  const pulses = Array.from({ length: 8 }, (_, i) => (i + 0.5) / 8 - 0.5);
  return {
    along: (px) => pulses.reduce((sum, at) => sum + gauss((px - at) * pitchMm) / pulses.length, 0),
    across: (px) => gauss(px * pitchMm),
  };
}

function tileDoses(isOn: (x: number, y: number) => boolean, { along, across }: Profile): Float64Array {
  const side = SIDE * SAMPLES;
  const doses = new Float64Array(side * side);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const [x, y] = [(column + 0.5) / SAMPLES - 0.5, (row + 0.5) / SAMPLES - 0.5];
      let dose = 0;
      for (let py = Math.round(y) - REACH_PX; py <= y + REACH_PX; py++) {
        for (let px = Math.round(x) - REACH_PX; px <= x + REACH_PX; px++) {
          if (isOn(px + 2 * SIDE, py + 2 * SIDE)) dose += along(x - px) * across(y - py);
        }
      }
      doses[row * side + column] = dose;
    }
  }
  return doses;
}

export const meanOver = (truth: Truth, doses: Float64Array): number =>
  doses.reduce((sum, dose) => sum + truth(dose), 0) / doses.length;

/** CIE 1976 lightness (CIE 15). */
export const lightness = (luminance: number): number =>
  luminance > 216 / 24389 ? 116 * Math.cbrt(luminance) - 16 : (24389 / 27) * luminance;
