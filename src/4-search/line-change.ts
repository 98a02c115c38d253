import type { BurstMark, LineMark } from "./search-model.js";

/** A row of power levels: `codes[from + x]` for x from 0 to columns − 1. Nothing burns beyond. */
export interface CodeRow {
  readonly codes: Uint8Array;
  readonly from: number;
  readonly columns: number;
}

/**
 * Adds to `out` what a change of one pixel does to the dose along its line, in full power. If bursts lose or gain, the pixels after
 * it in the direction of travel change too.
 *
 * @param out [pixels × samples] from pixel `left` of the row on
 * @param step power levels up or down, as a part of full power
 */
export function addPixelChange(
  line: LineMark,
  row: CodeRow,
  { x, levels, step }: { readonly x: number; readonly levels: number; readonly step: number },
  { out, left, samples }: { readonly out: Float64Array; readonly left: number; readonly samples: number },
): void {
  const { bursts } = line;
  const add = (dose: Float64Array, at: number, part: number): void => {
    const to = (at - line.before - left) * samples;
    for (let i = 0; i < dose.length; i++) out[to + i] += part * dose[i];
  };
  if (!bursts) {
    add(line.dose, x, step / (levels - 1));
    return;
  }
  const at = row.from + x;
  const end = reachOfBurst(bursts);
  for (const sign of [-1, 1]) {
    if (sign === 1) row.codes[at] += step;
    for (let n = 0; n <= end; n++) {
      const pixel = x + n * bursts.direction;
      if (pixel < 0 || pixel >= row.columns) break;
      const [whole, part] = splitPixel(bursts, row, pixel);
      if (whole > 0) add(line.dose, pixel, (sign * whole) / (levels - 1));
      if (part > 0) add(bursts.part, pixel, (sign * part) / (levels - 1));
    }
  }
  row.codes[at] -= step;
}

/** Pixels after a change, in the direction of travel, that may burn otherwise. */
export const reachOfBurst = ({ wholePx }: BurstMark): number => wholePx + 1;

/** Power levels at which a pixel burns as a whole and in part: `splitLevels` of the exposure, for one pixel. */
export function splitPixel(
  { direction, shortens, wholePx }: BurstMark,
  { codes, from, columns }: CodeRow,
  x: number,
): [whole: number, part: number] {
  // Pixels up to this one, against the direction of travel, that burn (or, if bursts grow, that do not).
  let run = 0;
  let at = x;
  for (; run <= wholePx + 1 && at >= 0 && at < columns; at -= direction, run++) {
    if ((codes[from + at] !== 0) !== shortens) break;
  }
  if (shortens) {
    const level = codes[from + x];
    return [run > wholePx + 1 ? level : 0, run === wholePx + 1 ? level : 0];
  }
  // Before the first burst of a line there is no last level.
  const last = at >= 0 && at < columns ? codes[from + at] : 0;
  return [run <= wholePx ? last : 0, run === wholePx + 1 ? last : 0];
}
