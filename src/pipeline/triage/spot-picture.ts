import type { SourceWindow } from "../../3-resample/source-window.js";
import { columnsOf, type Plane, planeRow, rowsOf } from "../../core/plane.js";
import type { PlaneRows } from "../../core/plane-rows.js";

/** A picture as the piece can show it: one pixel for each spot, or the photo's own pixels where they are coarser. */
export interface SpotPicture {
  readonly columns: number;
  readonly rows: number;
  /** Encoded luminance in 8-bit codes with fractions, 0..255; NaN where the picture is mostly transparent. */
  readonly row: PlaneRows;
  /**
   * Share of the variance of white noise that the differences of neighbours keep, over that with areas of whole photo pixels: areas
   * that share a photo pixel are alike. At the scale of the picture, and at half of it.
   */
  readonly whiteShares: readonly [own: number, half: number];
}

/** Photo pixels for one pixel of the result, along a row and from row to row; at least 1 each. */
export interface Reduction {
  readonly along: number;
  readonly across: number;
}

/** A photo and the part of it that is engraved. */
export interface PhotoWindow {
  readonly luminance: Plane<"encoded-luminance", Uint16Array>;
  readonly opacity?: Plane<"opacity", Uint16Array> | undefined;
  readonly window: SourceWindow;
}

/** 16-bit codes of one 8-bit code. */
const CODES = 257;

/**
 * The mean of the photo over the area of each pixel, row by row. Photo pixels at the edge of an area count with the share of them
 * that lies inside. Only one row of sums is kept.
 */
export function spotPicture({ luminance, opacity, window }: PhotoWindow, by: Reduction): SpotPicture {
  const columns = Math.max(1, Math.floor(window.width / by.along + 1e-9));
  const rows = Math.max(1, Math.floor(window.height / by.across + 1e-9));
  const light = areaMeans(luminance, window, by, columns);
  const shareAt = (scale: number): number =>
    whiteShare(window.left, scale * by.along, columns / scale) *
    whiteShare(window.top, scale * by.across, rows / scale);
  const size = { columns, rows, whiteShares: [shareAt(1), shareAt(2)] } as const;
  if (!opacity) return { ...size, row: light };
  const opaque = areaMeans(opacity, window, by, columns);
  const row = (y: number): Float32Array => {
    const [codes, shares] = [light(y), opaque(y)];
    for (let x = 0; x < columns; x++) if (shares[x] < 128) codes[x] = Number.NaN;
    return codes;
  };
  return { ...size, row };
}

/** The same along one line of areas. A photo pixel at the edge of an area counts with the square of its share. */
function whiteShare(start: number, length: number, count: number): number {
  let sum = 0;
  for (let area = 0; area < count; area++) {
    const [from, to] = [start + area * length, start + (area + 1) * length].map((at) => at - Math.floor(at));
    const inside = length - (1 - from) - to;
    sum += inside + (1 - from) ** 2 + to ** 2 - to * (1 - to);
  }
  return sum / (Math.ceil(count) * length);
}

function areaMeans(
  source: Plane<"encoded-luminance" | "opacity", Uint16Array>,
  { left, top, width }: SourceWindow,
  { along, across }: Reduction,
  columns: number,
): PlaneRows {
  const first = Math.max(0, Math.floor(left));
  const end = Math.min(columnsOf(source), Math.ceil(left + width));
  const lastRow = rowsOf(source) - 1;
  const sums = new Float64Array(end - first + 1);
  const means = new Float32Array(columns);
  return (y) => {
    const [from, to] = [top + y * across, top + (y + 1) * across];
    sums.fill(0);
    for (let at = Math.floor(from); at < to - 1e-9; at++) {
      const share = Math.min(at + 1, to) - Math.max(at, from);
      addRow(planeRow(source, Math.min(lastRow, at)).subarray(first, end), share, sums);
    }
    meansOfAreas(sums, left - first, along, means);
    const scale = 1 / (along * (to - from) * CODES);
    for (let x = 0; x < columns; x++) means[x] *= scale;
    return means;
  };
}

function addRow(codes: Uint16Array, share: number, sums: Float64Array): void {
  for (let x = 0; x < codes.length; x++) sums[x] += share * codes[x];
}

/** Sums over stretches of one length, from running totals between which lies a straight line. */
function meansOfAreas(values: Float64Array, start: number, length: number, out: Float32Array): void {
  let total = 0;
  for (let x = 0; x < values.length; x++) {
    const value = values[x];
    values[x] = total;
    total += value;
  }
  const last = values.length - 1;
  const totalAt = (at: number): number => {
    const i = Math.min(last - 1, Math.floor(at));
    return values[i] + (at - i) * (values[i + 1] - values[i]);
  };
  for (let x = 0, before = totalAt(start); x < out.length; x++) {
    const after = totalAt(Math.min(last, start + (x + 1) * length));
    out[x] = after - before;
    before = after;
  }
}
