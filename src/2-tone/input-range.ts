import { CODES } from "../core/luminance-codes.js";
import { linearFromSrgb } from "../core/physics/transfer.js";

/** Linear luminance that becomes 0, and that which becomes 1. */
export interface InputRange {
  readonly black: number;
  readonly white: number;
}

export const AS_IS: InputRange = { black: 0, white: 1 };

/** A photo flatter than this in linear luminance is left alone: stretching it would only show noise. */
const MIN_RANGE = 0.02;

/**
 * The range that automatic levels stretch: the darkest `clipPercent` of the picture become 0, the lightest as many become 1. Never does more than that
 * share end at 0 or 1 that did not before: a tone shared by more pixels stays clear of the end. Only the picture's own darkest
 * and lightest tone always reach it, for beyond them there is nothing to lose.
 *
 * The stretch is linear in light: it takes off an even veil and sets the exposure, and leaves every ratio of light between
 * as it is.
 *
 * @param codes sRGB-encoded luminance, 0..65535
 * @param opacity 0..65535; transparent pixels do not count, others by their share
 */
export function automaticRange(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  clipPercent: number,
): InputRange {
  const tones = countTones();
  tones.add(codes, opacity);
  return tones.range(clipPercent);
}

/** The same of a picture that comes in parts: all with opacity, or all without. */
export interface ToneCount {
  readonly add: (codes: Uint16Array, opacity?: Uint16Array) => void;
  readonly range: (clipPercent: number) => InputRange;
}

export function countTones(): ToneCount {
  const counted = new Uint32Array(CODES);
  /** Two counts side by side: neighbours are often alike, and one would have to wait for the other. */
  const countedToo = new Uint32Array(CODES);
  const weighed = new Float64Array(CODES);
  let total = 0;
  return {
    add(codes, opacity) {
      if (opacity) {
        for (let i = 0; i < codes.length; i++) {
          const weight = opacity[i] / 65535;
          weighed[codes[i]] += weight;
          total += weight;
        }
        return;
      }
      const even = codes.length - (codes.length % 2);
      for (let i = 0; i < even; i += 2) {
        counted[codes[i]]++;
        countedToo[codes[i + 1]]++;
      }
      if (even < codes.length) counted[codes[even]]++;
      total += codes.length;
    },
    range(clipPercent) {
      const share = (code: number) => counted[code] + countedToo[code] + weighed[code];
      const clip = (total * clipPercent) / 100;
      const black = linearFromSrgb(lastClipped(share, 0, 1, clip) / 65535);
      const white = linearFromSrgb(lastClipped(share, 65535, -1, clip) / 65535);
      return white - black < MIN_RANGE ? AS_IS : { black, white };
    },
  };
}

/** The last code, counted from one end, up to which no more than `clip` pixels lie; the first code in use where there is none. */
function lastClipped(share: (code: number) => number, end: number, step: 1 | -1, clip: number): number {
  let last: number | undefined;
  let sum = 0;
  for (let code = end; code >= 0 && code < CODES; code += step) {
    const pixels = share(code);
    if (pixels === 0) continue;
    sum += pixels;
    if (sum > clip) return last ?? code;
    last = code;
  }
  return last ?? end;
}
