/** The two tones of a drawing as sRGB-encoded luminance 0..65535: the bare tone and the ink, which is engraved. */
export interface ArtworkTones {
  readonly bareCode: number;
  readonly inkCode: number;
  /** Whether the picture has both tones; a pixel between them is then on an edge. */
  readonly both: boolean;
  /** Whether it is one ink on a transparent ground. This ink then burns, whether dark or light. */
  readonly oneInk: boolean;
  /** Share of the picture between the tones, from a quarter to three quarters of the way. */
  readonly between: number;
}

const BINS = 256;

/** Smallest distance of the two tones, as a share of the scale. */
const MIN_CONTRAST = 0.25;

/** A pixel is flat if the pixels at this distance in all four directions have its tone, within `FLAT_BINS`. */
const FLAT_PX = 2;
const FLAT_BINS = 2;

/** Share of the picture that a flat tone must fill to be one of the two. */
const MIN_FLAT = 1e-4;

/**
 * The two tones of a drawing: the most common flat tone on either side of the middle between the lightest and the darkest tone.
 * On a side without flat pixels, for example if all strokes are thin, it is black or white. Transparency counts as bare surface,
 * and a single tone on it as ink, light or dark.
 *
 * A picture with one tone, or with tones that hardly differ, is compared with black and white, and all of it becomes one of them.
 *
 * @param codes [rows × columns] sRGB-encoded luminance, 0..65535
 * @param opacity [rows × columns] 0..65535
 * @param inkIsDark whether the darker tone is the ink
 * @param asIs whether black and white are the two tones in any case
 */
export function artworkTones(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  columns: number,
  inkIsDark: boolean,
  asIs: boolean,
): ArtworkTones {
  const seen = new Float64Array(BINS);
  const covering = new Float64Array(BINS);
  const flat = new Float64Array(BINS);
  let transparent = 0;
  let clear = 0;
  for (let i = 0, x = 0; i < codes.length; i++, x++) {
    if (x === columns) x = 0;
    const bin = codes[i] >> 8;
    const opaque = opacity ? opacity[i] / 65535 : 1;
    seen[bin] += opaque;
    transparent += 1 - opaque;
    if (opaque === 0) clear++;
    if (opaque !== 1) continue;
    covering[bin]++;
    if (isFlat(codes, opacity, columns, i, x)) flat[bin]++;
  }
  const minPixels = MIN_FLAT * codes.length;
  // Only from opaque pixels: a nearly transparent pixel has no clear tone.
  const drawn = rangeOf(covering);
  const oneInk =
    !asIs && clear > minPixels && drawn.darkest >= 0 && drawn.lightest - drawn.darkest < MIN_CONTRAST * BINS;
  const dark = oneInk ? drawn.darkest + drawn.lightest < BINS : inkIsDark;
  const bareBin = dark ? BINS - 1 : 0;
  seen[bareBin] += transparent;
  flat[bareBin] += clear;
  const { darkest, lightest } = rangeOf(seen);
  const middle = (darkest + lightest + 1) >> 1;
  const darkTone = commonest(flat, 0, middle, minPixels) ?? 0;
  const lightTone = commonest(flat, middle, BINS, minPixels) ?? BINS - 1;
  const apart = !asIs && lightest - darkest >= MIN_CONTRAST * BINS;
  const [low, high] = apart ? [darkTone, lightTone] : [0, BINS - 1];
  const from = low + (high - low) / 4;
  const to = high - (high - low) / 4;
  const between = seen.reduce((sum, count, bin) => sum + (bin > from && bin < to ? count : 0), 0);
  const [bare, ink] = dark ? [high, low] : [low, high];
  return {
    bareCode: codeOf(bare),
    inkCode: codeOf(ink),
    both: apart || asIs,
    oneInk,
    between: between / codes.length,
  };
}

/** The first and last bin in use; -1 if the histogram is empty. */
function rangeOf(counts: Float64Array): { readonly darkest: number; readonly lightest: number } {
  const darkest = counts.findIndex((count) => count > 0);
  return { darkest, lightest: counts.findLastIndex((count) => count > 0) };
}

/** Whether pixel `i`, in column `x`, has the tone and opacity of its surroundings; false at the border of the picture. */
function isFlat(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  columns: number,
  i: number,
  x: number,
): boolean {
  if (x < FLAT_PX || x + FLAT_PX >= columns || i < FLAT_PX * columns) return false;
  if (i + FLAT_PX * columns >= codes.length) return false;
  const down = FLAT_PX * columns;
  return (
    isLike(codes, opacity, i, i - FLAT_PX) &&
    isLike(codes, opacity, i, i + FLAT_PX) &&
    isLike(codes, opacity, i, i - down) &&
    isLike(codes, opacity, i, i + down)
  );
}

/** Whether another pixel is opaque and has the tone of pixel `i`. */
const isLike = (codes: Uint16Array, opacity: Uint16Array | undefined, i: number, other: number): boolean =>
  Math.abs((codes[other] >> 8) - (codes[i] >> 8)) <= FLAT_BINS && (!opacity || opacity[other] === 65535);

/** The fullest bin of [from, end); undefined if no bin has more than `minPixels`. */
function commonest(
  histogram: Float64Array,
  from: number,
  end: number,
  minPixels: number,
): number | undefined {
  let best = from;
  for (let bin = from; bin < end; bin++) if (histogram[bin] > histogram[best]) best = bin;
  return histogram[best] > minPixels ? best : undefined;
}

const codeOf = (bin: number): number => Math.round((bin * 65535) / (BINS - 1));

/**
 * [65536] The luminance scale from bare surface to solid fill, by sRGB-encoded luminance. It is linear in the encoded values,
 * because drawing programs mix the pixels at edges that way: SVG composites in sRGB by default (W3C, SVG 1.1, 2011,
 * `color-interpolation`), and raster programs do too (common practice, no source).
 *
 * @param darkens whether engraving darkens: solid fill is then 0, else 1
 */
export function artworkTable({ bareCode, inkCode, both }: ArtworkTones, darkens: boolean): Float32Array {
  return Float32Array.from({ length: 65536 }, (_, code) => {
    const share = (code - bareCode) / (inkCode - bareCode);
    const ink = both ? Math.min(1, Math.max(0, share)) : Math.round(share);
    return darkens ? 1 - ink : ink;
  });
}
