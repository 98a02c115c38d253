import { labDistance, labFromSrgb } from "../core/physics/lab.js";

/** One of the few colours of a drawing. */
export interface FlatColour {
  /** sRGB, 0..255 */
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  /** Share of the picture. */
  readonly share: number;
}

/** A colour as it is found: every 16 codes of a channel are one bin. */
const BIN_SHIFT = 4;

/** Colours nearer than this (CIE 1976 ΔE) are one: JPEG spreads a flat colour that far. */
const ONE_COLOUR = 12;
/** Share of the opaque areas that a colour must fill. */
const MIN_SHARE = 0.01;
/** Share that the colours must fill together, and the most that there may be. */
const MIN_TOGETHER = 0.8;
const MAX_COLOURS = 8;

const MIN_OPACITY = 250;

/** Largest difference of a channel between neighbours in one area. */
const ONE_AREA = 24;

/**
 * The colours of a drawing, the most common first; undefined if the picture has more than a few. Only areas count, and no edges:
 * softened edges have colours that nobody drew.
 *
 * @param rgba [rows × columns × 4] sRGB and opacity, 0..255
 */
export function flatColours(rgba: Uint8Array, columns: number): FlatColour[] | undefined {
  const found = commonBins(rgba, columns);
  const colours: Sum[] = [];
  for (const bin of found.bins) {
    const near = colours.find((colour) => labDistance(labOf(colour), labOf(bin)) < ONE_COLOUR);
    if (near) add(near, bin);
    else colours.push({ ...bin });
  }
  const flat = colours.filter(({ count }) => count >= MIN_SHARE * found.opaque);
  const together = flat.reduce((sum, { count }) => sum + count, 0);
  if (found.opaque === 0 || flat.length > MAX_COLOURS || together < MIN_TOGETHER * found.opaque)
    return undefined;
  return flat.map(({ red, green, blue, count }) => ({
    ...{ red: Math.round(red / count), green: Math.round(green / count), blue: Math.round(blue / count) },
    share: count / (rgba.length / 4),
  }));
}

/** A lighter colour is paper, in L*. */
const PAPER = 95;

/** Whether a drawing has several colours beside its paper. */
export const hasSeveralInks = (colours: readonly FlatColour[] = []): boolean =>
  colours.filter(({ red, green, blue }) => labFromSrgb(red, green, blue).lightness < PAPER).length > 1;

/** Sums of the channels of some pixels. */
interface Sum {
  red: number;
  green: number;
  blue: number;
  count: number;
}

function add(to: Sum, { red, green, blue, count }: Sum): void {
  to.red += red;
  to.green += green;
  to.blue += blue;
  to.count += count;
}

const labOf = ({ red, green, blue, count }: Sum) => labFromSrgb(red / count, green / count, blue / count);

/** Whether a pixel and its right and lower neighbours are of one area. */
function isFlat(rgba: Uint8Array, at: number, columns: number): boolean {
  for (const other of [at + 4, at + 4 * columns]) {
    if (other >= rgba.length || rgba[other + 3] < MIN_OPACITY) return false;
    for (let k = 0; k < 3; k++) if (Math.abs(rgba[other + k] - rgba[at + k]) > ONE_AREA) return false;
  }
  return true;
}

/** The bins in use, the fullest first, and the number of pixels in opaque areas. */
function commonBins(
  rgba: Uint8Array,
  columns: number,
): { readonly bins: readonly Sum[]; readonly opaque: number } {
  const bins = new Map<number, Sum>();
  let opaque = 0;
  for (let i = 0; i < rgba.length; i += 4) {
    if (rgba[i + 3] < MIN_OPACITY || !isFlat(rgba, i, columns)) continue;
    opaque++;
    const [red, green, blue] = [rgba[i], rgba[i + 1], rgba[i + 2]];
    const bin = [red, green, blue].reduce((at, code) => (at << (8 - BIN_SHIFT)) + (code >> BIN_SHIFT), 0);
    const sum = bins.get(bin) ?? { red: 0, green: 0, blue: 0, count: 0 };
    add(sum, { red, green, blue, count: 1 });
    bins.set(bin, sum);
  }
  return { bins: [...bins.values()].sort((a, b) => b.count - a.count), opaque };
}
