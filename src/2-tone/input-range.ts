import { CODES } from "../core/luminance-codes.js";
import { linearFromSrgb } from "../core/physics/transfer.js";

/** The linear luminances that become 0 and 1. */
export interface InputRange {
  readonly black: number;
  readonly white: number;
}

export const AS_IS: InputRange = { black: 0, white: 1 };

/**
 * A photo whose tones span less than this share of the encoded scale, 4 steps of 255, stays unchanged: stretching it would only
 * show noise. From twice the share on it is stretched in full, and in between by a part. The encoded scale decides, because
 * files store tones in its steps. In linear light, a dark photo with many steps has a small range.
 */
const MIN_SPAN = 4 / 255;

/** The darkest and the lightest tone that automatic levels keep, sRGB-encoded, 0..1. */
export interface ToneEnds {
  readonly darkest: number;
  readonly lightest: number;
}

/** The range to stretch for these ends. */
export function stretchedRange({ darkest, lightest }: ToneEnds): InputRange {
  const share = Math.min(1, Math.max(0, (lightest - darkest) / MIN_SPAN - 1));
  return {
    black: share * linearFromSrgb(darkest),
    white: 1 + share * (linearFromSrgb(lightest) - 1),
  };
}

/**
 * The range that automatic levels stretch: up to `clipPercent` of the pixels become 0 and as many become 1. A tone that more
 * pixels share is not clipped, unless it is the darkest or lightest tone of the picture: those always reach the ends, because
 * nothing lies beyond them.
 *
 * The stretch is linear in light: it removes an even veil and sets the exposure.
 *
 * @param codes sRGB-encoded luminance, 0..65535
 * @param opacity 0..65535; pixels count by their opacity
 */
export function automaticRange(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  clipPercent: number,
): InputRange {
  const tones = countTones();
  tones.add(codes, opacity);
  return stretchedRange(tones.ends(clipPercent));
}

/** The same for a picture in parts: all with opacity, or all without. */
export interface ToneCount {
  readonly add: (codes: Uint16Array, opacity?: Uint16Array) => void;
  readonly ends: (clipPercent: number) => ToneEnds;
}

export function countTones(): ToneCount {
  const counted = new Uint32Array(CODES);
  /** A second histogram for every other pixel: equal neighbours would otherwise wait for the same counter. */
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
    ends(clipPercent) {
      const share = (code: number) => counted[code] + countedToo[code] + weighed[code];
      const clip = (total * clipPercent) / 100;
      return {
        darkest: lastClipped(share, 0, 1, clip) / 65535,
        lightest: lastClipped(share, 65535, -1, clip) / 65535,
      };
    },
  };
}

/** The last code, counted from one end, with no more than `clip` pixels up to it; otherwise the first code in use. */
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
