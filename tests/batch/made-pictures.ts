import type { Photo } from "../../src/1-photo/photo.js";
import { erfc } from "../../src/core/physics/erf.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { srgbFromLinear } from "../../src/core/physics/transfer.js";
import { plane } from "../../src/core/plane.js";
import { normalDeviate, seededRandom } from "../../src/core/random.js";

export const COLUMNS = 1000;
export const ROWS = 750;

/** 16-bit code of a pixel. */
export type CodeAt = (x: number, y: number) => number;

/** A photo of these codes; by default a JPEG, for which even areas are not reported. */
export function photoOf(
  at: CodeAt,
  changes: Partial<Photo> = {},
  [columns, rows]: readonly [number, number] = [COLUMNS, ROWS],
): Photo {
  const codes = new Uint16Array(columns * rows);
  for (let i = 0; i < codes.length; i++) codes[i] = Math.round(at(i % columns, Math.floor(i / columns)));
  return {
    luminance: plane("encoded-luminance", codes, rows, columns),
    format: "jpeg",
    sourceBits: 16,
    hadProfile: false,
    looksDamaged: false,
    orientation: 1,
    pages: 1,
    ...changes,
  };
}

/** The same opacity in every pixel. */
export const opacityOf = (opacity: number): Pick<Photo, "opacity"> => ({
  opacity: plane("opacity", new Uint16Array(COLUMNS * ROWS).fill(opacity), ROWS, COLUMNS),
});

/** A soft ramp with faint grain from one share of the scale to another: no edges, no blocks, no even areas, no clipping. */
export function softTones(from = 0.15, to = 0.85, columns = COLUMNS): CodeAt {
  const random = seededRandom(7);
  return (x) => 65535 * (from + ((to - from) * x) / columns) + 400 * random() - 200;
}

/** A linear ramp from one L* to another. */
export const lightnessRamp =
  (from: number, to: number): CodeAt =>
  (x) =>
    65535 * srgbFromLinear(luminanceFromLightness(from + ((to - from) * x) / (COLUMNS - 1)));

/** A number of rows of one code above another picture. */
export const withBand =
  (bandRows: number, code: number, below: CodeAt): CodeAt =>
  (x, y) =>
    y < bandRows ? code : below(x, y);

/** Bars about 40 pixels wide, whose edges are Gaussian steps of this spread (erf), under faint grain. */
export function bars(sigmaPx: number): CodeAt {
  const random = seededRandom(7);
  const light = Float64Array.from({ length: COLUMNS }, (_, x) => {
    let sum = 0.2;
    for (let edge = 17.3, up = 1; edge < COLUMNS + 60; edge += 40.37, up = -up) {
      sum += up * 0.3 * (2 - erfc((x - edge) / (sigmaPx * Math.SQRT2)));
    }
    return 65535 * sum;
  });
  return (x) => light[x] + 20 * random();
}

/** Squares of eight pixels, by turns lighter and darker by so many 8-bit codes both ways; two halves for contrast. */
export function blocks(stepCodes: number): CodeAt {
  const level = (at: number): number => 257 * stepCodes * (Math.floor(at / 8) % 2);
  return (x, y) => level(x) + level(y) + (x <= 403 ? 12_000 : 40_000);
}

/** White noise of a standard deviation in 8-bit codes over another picture. */
export function withGrain(codes: number, below: CodeAt): CodeAt {
  const random = seededRandom(11);
  return (x, y) => Math.max(0, Math.min(65535, below(x, y) + 257 * codes * normalDeviate(random)));
}

/** White dots on black at regular distances in each row, without neighbours; the last rows are grey. */
export const dots =
  (every: number, greyRows: number): CodeAt =>
  (x, y) => {
    if (y >= ROWS - greyRows) return 30_000;
    return (x + 7 * y) % every === 0 ? 64_000 : 1_000;
  };

/** Ink on a ground, a quarter of the rows. */
export const drawing =
  (ink: number, ground: number): CodeAt =>
  (_x, y) =>
    65535 * (y >= 300 && y < 300 + ROWS / 4 ? ink : ground);
