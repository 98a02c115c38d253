import { onWhite } from "../../core/on-white.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { linearFromSrgb } from "../../core/physics/transfer.js";
import { columnsOf, denseData, type Plane, rowsOf } from "../../core/plane.js";

/** Codes within half an 8-bit step of an end count as at the end. */
const END = 128;
/** Maximum number of counted rows: 1000 rows of any picture give shares to a few parts in a thousand. */
const MAX_ROWS = 1000;
/** A larger step between neighbours counts as a step between black and white. */
const FULL_STEP = 0.8 * 65535;
/** Nobody sees what is in a pixel that is less opaque. */
const CLEAR = 65535 / 50;
const BINS = 1024;
/** Areas of a screenshot are even over this length. */
const EVEN_PX = 16;

export interface ToneFacts {
  /** Shares of the pixels that are not clear at the ends of the scale, 0..1. */
  readonly white: number;
  readonly black: number;
  /** The 1st and the 99th percentile as shares of the encoded scale, and the difference of their L*. */
  readonly darkest: number;
  readonly lightest: number;
  readonly lightnessRange: number;
  /** Share that is nearly black or nearly white: within a tenth of the scale from an end. */
  readonly extreme: number;
  /** Share of neighbours along a row that jump between black and white. */
  readonly jumps: number;
  /** Share that equals the next pixel and the pixels at a distance to the right and below, without the ends of the scale. */
  readonly flat: number;
}

/** @param opacity of the same shape; what shines through a pixel is paper, and almost clear pixels are left out */
export function toneFacts(
  light: Plane<"encoded-luminance", Uint16Array>,
  opacity?: Plane<"opacity", Uint16Array>,
): ToneFacts {
  const codes = denseData(light);
  const opaque = opacity && denseData(opacity);
  const [rows, columns] = [rowsOf(light), columnsOf(light)];
  const histogram = new Float64Array(BINS);
  let [total, white, black, extreme, jumps, flat] = [0, 0, 0, 0, 0, 0];
  const every = Math.max(1, Math.floor(rows / MAX_ROWS));
  for (let y = 0; y < rows; y += every) {
    const down = (y + EVEN_PX < rows ? EVEN_PX : -EVEN_PX) * columns;
    for (let x = 0; x < columns; x++) {
      const i = y * columns + x;
      if (opaque && opaque[i] < CLEAR) continue;
      const code = opaque ? onWhite(codes[i], opaque[i]) : codes[i];
      total++;
      const bin = code >> 6;
      histogram[bin]++;
      if (bin < 0.1 * BINS || bin >= 0.9 * BINS) extreme++;
      const atEnd = code < END || code > 65535 - END;
      if (code < END) black++;
      else if (atEnd) white++;
      const next = x + 1 < columns ? codes[i + 1] : code;
      if (Math.abs(next - code) > FULL_STEP) jumps++;
      const right = x + EVEN_PX < columns ? EVEN_PX : -EVEN_PX;
      if (!atEnd && next === code && isEven(codes, i, right, down)) flat++;
    }
  }
  if (total === 0) {
    return { white: 1, black: 0, darkest: 1, lightest: 1, lightnessRange: 0, extreme: 1, jumps: 0, flat: 0 };
  }
  const [darkest, lightest] = [0.01, 0.99].map((at) => (percentile(histogram, total * at) + 0.5) / BINS);
  const lightnessOf = (encoded: number): number => lightnessFromLuminance(linearFromSrgb(encoded));
  return {
    white: white / total,
    black: black / total,
    ...{ darkest, lightest, lightnessRange: lightnessOf(lightest) - lightnessOf(darkest) },
    extreme: extreme / total,
    jumps: jumps / total,
    flat: flat / total,
  };
}

/** Whether the corners of a square hold the same code. A smooth photo in 8 bits is flat over a few pixels only. */
function isEven(codes: Uint16Array, i: number, right: number, down: number): boolean {
  const code = codes[i];
  return codes[i + right] === code && codes[i + down] === code && codes[i + right + down] === code;
}

function percentile(histogram: Float64Array, wanted: number): number {
  let sum = 0;
  for (let bin = 0; bin < histogram.length; bin++) {
    sum += histogram[bin];
    if (sum >= wanted) return bin;
  }
  return histogram.length - 1;
}
