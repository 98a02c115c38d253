/** The two tones of a drawing as sRGB-encoded luminance 0..65535: what stays bare, and what is engraved. */
export interface ArtworkTones {
  readonly bareCode: number;
  readonly inkCode: number;
  /** Whether the picture shows both, so that what lies between them is a pixel on an edge. */
  readonly both: boolean;
  /** Share of the picture that lies between them, from a quarter to three quarters of the way. */
  readonly between: number;
}

const BINS = 256;

/** Tones closer than this share of the scale are not a drawing's two. */
const LEAST_CONTRAST = 0.25;

/**
 * The commonest tone on either side of the middle between the lightest and the darkest. Transparency counts as bare surface.
 *
 * A picture of a single tone, or of several that hardly differ, is measured against black and white, and is all one or the
 * other.
 *
 * @param codes sRGB-encoded luminance, 0..65535; @param opacity 0..65535
 * @param darkens whether engraving darkens the surface, so that the darker tone is the ink
 * @param asIs black and white are the two tones, whatever the picture holds
 */
export function artworkTones(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  darkens: boolean,
  asIs: boolean,
): ArtworkTones {
  const histogram = new Float64Array(BINS);
  for (let i = 0; i < codes.length; i++) {
    const opaque = opacity ? opacity[i] / 65535 : 1;
    histogram[codes[i] >> 8] += opaque;
    histogram[darkens ? BINS - 1 : 0] += 1 - opaque;
  }
  const darkest = histogram.findIndex((count) => count > 0);
  const lightest = BINS - 1 - [...histogram].reverse().findIndex((count) => count > 0);
  const middle = (darkest + lightest + 1) >> 1;
  const dark = commonest(histogram, darkest, middle);
  const light = commonest(histogram, middle, lightest + 1);
  const apart = !asIs && light - dark >= LEAST_CONTRAST * BINS;
  const [low, high] = apart ? [dark, light] : [0, BINS - 1];
  const from = low + (high - low) / 4;
  const to = high - (high - low) / 4;
  const between = histogram.reduce((sum, count, bin) => sum + (bin > from && bin < to ? count : 0), 0);
  const [bare, ink] = darkens ? [high, low] : [low, high];
  const both = apart || asIs;
  return { bareCode: codeOf(bare), inkCode: codeOf(ink), both, between: between / codes.length };
}

/** The fullest bin of [from, end). */
function commonest(histogram: Float64Array, from: number, end: number): number {
  let best = from;
  for (let bin = from; bin < end; bin++) if (histogram[bin] > histogram[best]) best = bin;
  return best;
}

const codeOf = (bin: number): number => Math.round((bin * 65535) / (BINS - 1));

/**
 * [65536] Luminance on the scale that runs straight from bare surface to solid fill, by sRGB-encoded luminance: the share that
 * is not bare. Straight in the encoded values, since that is how drawing programs mix the pixels at edges: SVG composites in
 * sRGB unless told otherwise (W3C, SVG 1.1, 2011, `color-interpolation`), and so do raster programs (common practice, no source).
 *
 * @param darkens engraved is 0 then, and 1 where engraving lightens
 */
export function artworkTable({ bareCode, inkCode, both }: ArtworkTones, darkens: boolean): Float32Array {
  return Float32Array.from({ length: 65536 }, (_, code) => {
    const share = (code - bareCode) / (inkCode - bareCode);
    const ink = both ? Math.min(1, Math.max(0, share)) : Math.round(share);
    return darkens ? 1 - ink : ink;
  });
}
