import type { SourceWindow } from "../../3-resample/source-window.js";
import { columnsOf, type Plane, planeRow, rowsOf } from "../../core/plane.js";
import type { PlaneRows } from "../../core/plane-rows.js";

/** A picture as the piece can show it: one pixel for each spot, or the photo's own pixels where they are coarser. */
export interface SpotPicture {
  readonly columns: number;
  readonly rows: number;
  /** Encoded luminance in 8-bit codes with fractions, 0..255; NaN where the picture is mostly transparent. */
  readonly row: PlaneRows;
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
  if (!opacity) return { columns, rows, row: light };
  const opaque = areaMeans(opacity, window, by, columns);
  const row = (y: number): Float32Array => {
    const [codes, shares] = [light(y), opaque(y)];
    for (let x = 0; x < columns; x++) if (shares[x] < 128) codes[x] = Number.NaN;
    return codes;
  };
  return { columns, rows, row };
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
