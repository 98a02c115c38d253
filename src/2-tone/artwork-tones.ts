/** The two tones of a drawing as sRGB-encoded luminance 0..65535: what stays bare, and what is engraved. */
export interface ArtworkTones {
  readonly bareCode: number;
  readonly inkCode: number;
  /** Whether the picture shows both, so that what lies between them is a pixel on an edge. */
  readonly both: boolean;
  /** Whether it is one ink on a transparent ground: that is what burns then, whichever tone was to be the ink. */
  readonly oneInk: boolean;
  /** Share of the picture that lies between them, from a quarter to three quarters of the way. */
  readonly between: number;
}

const BINS = 256;

/** Tones closer than this share of the scale are not a drawing's two. */
const MIN_CONTRAST = 0.25;

/** A tone is flat where pixels at this distance in all four directions have it as well, within `FLAT_BINS`. */
const FLAT_PX = 2;
const FLAT_BINS = 2;

/** Share of the picture that a flat tone must fill to be one of the two. */
const MIN_FLAT = 1e-4;

/**
 * The commonest flat tone on either side of the middle between the lightest and the darkest; black or white where nothing there
 * is flat, as when all strokes are thin. Transparency counts as bare surface, and what is drawn on it in a single tone as ink,
 * light or dark.
 *
 * A picture of a single tone, or of several that hardly differ, is measured against black and white, and is all one or the
 * other.
 *
 * @param codes [rows × columns] sRGB-encoded luminance, 0..65535; @param opacity the same, 0..65535
 * @param inkIsDark whether the darker tone is the ink
 * @param asIs black and white are the two tones, whatever the picture holds
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
  // Only of opaque pixels: one that hardly covers has no clear tone.
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

/** The ends of a histogram; -1 where it is empty. */
function rangeOf(counts: Float64Array): { readonly darkest: number; readonly lightest: number } {
  const darkest = counts.findIndex((count) => count > 0);
  return { darkest, lightest: counts.findLastIndex((count) => count > 0) };
}

/** Whether pixel `i`, in column `x`, has the tone and the opacity of its surroundings; at the picture's border none has. */
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

/** The fullest bin of [from, end), undefined where none holds more than `minPixels`. */
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
