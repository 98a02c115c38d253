import { addPixelChange, reachOfBurst, splitPixel } from "./line-change.js";
import type { LineMark, MarkProfile, SearchModel, SearchTile } from "./search-model.js";

/** No second pixel. */
export const NONE = -1;

/**
 * A search over one tile: direct binary search (M. Analoui, J. P. Allebach, "Model-based halftoning using direct binary search", Proc.
 * SPIE 1666, 1992) with the burn in the loop. The luminance factor of a pixel is the mean over its samples of the surface's response
 * to the dose, so what a change does is no sum of what its pixels do. It is computed anew for each trial, in double precision.
 */
export class TileSearch {
  private readonly cases: number;
  /** [rows · samplesAcross × columns · samplesAlong] in units of a solid fill. */
  private readonly dose: Float64Array;
  /** [cases] Luminance factors. */
  readonly luminance: readonly Float64Array[];
  /** Pixels that the last trial changed, and its doses along the one or two lines of its pixels. */
  private left = 0;
  private right = 0;
  private top = 0;
  private bottom = 0;
  private firstLine = 0;
  private secondLine = NONE;
  private readonly firstDose: Float64Array;
  private readonly secondDose: Float64Array;
  /** [cases] Luminance factors after the last trial, in its box, and their weighed changes. */
  private readonly changed: readonly Float64Array[];
  private readonly change: readonly Float64Array[];
  /** [cases] What the eye sees of the changes, in the box; later the changes that act on one pull. */
  private readonly seen: readonly Float64Array[];
  private readonly weights: Float64Array;
  private readonly sums: Float64Array;

  constructor(
    private readonly model: SearchModel,
    readonly tile: SearchTile,
  ) {
    const { columns, rows } = tile;
    const { samplesAlong, samplesAcross, evenLines, oddLines, across } = model;
    const planes = (length: number) => model.surface.map(() => new Float64Array(length));
    this.cases = model.surface.length;
    this.dose = new Float64Array(columns * samplesAlong * rows * samplesAcross);
    this.luminance = planes(columns * rows);
    // Two neighbours, with the bursts after them on lines that may run in opposite directions.
    const along = Math.max(...[evenLines, oddLines].map((line) => widthOf(line) + 1 + 2 * burstReach(line)));
    this.firstDose = new Float64Array(along * samplesAlong);
    this.secondDose = new Float64Array(along * samplesAlong);
    const box = along * (widthOf(across) + 1);
    this.changed = planes(box);
    this.change = planes(box);
    this.seen = planes(box);
    this.weights = new Float64Array(2 * samplesAcross);
    this.sums = new Float64Array(this.cases);
    this.burnAll();
    for (let y = 0; y < rows; y++) this.respond(y);
  }

  /** How much J changes if a pixel goes `step` power levels up, and another as many down. */
  gain(x: number, y: number, step: number, otherX = NONE, otherY = NONE): number {
    const first = this.attempt(x, y, step, otherX, otherY);
    // The second order is never negative: an eye sees each change by itself.
    return first >= 0 ? first : first + this.secondOrder();
  }

  /** @param exactPx within this distance of the change pulls are exact; further off they are those of its sum and its centre */
  accept(exactPx: number, x: number, y: number, step: number, otherX = NONE, otherY = NONE): void {
    const { codes, columns } = this.tile;
    this.attempt(x, y, step, otherX, otherY);
    this.keepDose();
    codes[y * columns + x] += step;
    if (otherX !== NONE) codes[otherY * columns + otherX] -= step;
    this.keepLuminance();
    this.pullAnew(exactPx);
  }

  private lineOf(y: number): LineMark {
    return (this.tile.firstRow + y) & 1 ? this.model.oddLines : this.model.evenLines;
  }

  /** The dose of the whole bitmap, line by line. */
  private burnAll(): void {
    const { columns, rows, codes } = this.tile;
    const { samplesAlong, samplesAcross, across, levels } = this.model;
    const { dose } = this;
    const width = columns * samplesAlong;
    const line = new Float64Array(width);
    for (let y = 0; y < rows; y++) {
      line.fill(0);
      const mark = this.lineOf(y);
      const row = { codes, from: y * columns, columns };
      for (let x = 0; x < columns; x++) {
        const [whole, part] = mark.bursts ? splitPixel(mark.bursts, row, x) : [codes[y * columns + x], 0];
        if (whole > 0) addMark(line, mark.dose, (x - mark.before) * samplesAlong, whole / (levels - 1));
        if (part > 0 && mark.bursts)
          addMark(line, mark.bursts.part, (x - mark.before) * samplesAlong, part / (levels - 1));
      }
      const top = (y - across.before) * samplesAcross;
      for (let r = 0; r < across.dose.length; r++) {
        const to = (top + r) * width;
        if (to < 0 || to >= dose.length) continue;
        const by = across.dose[r];
        for (let c = 0; c < width; c++) dose[to + c] += by * line[c];
      }
    }
  }

  /** Luminance factors of a row from its dose. */
  private respond(y: number): void {
    const { columns } = this.tile;
    this.left = 0;
    this.firstDose.fill(0);
    this.weights.fill(0);
    for (let x = 0; x < columns; x++) {
      this.respondAt(x, y, 0);
      for (let k = 0; k < this.cases; k++) this.luminance[k][y * columns + x] = this.sums[k];
    }
  }

  /** Luminance factors of a pixel, for each case, with the doses of the trial on top, to `sums`. */
  private respondAt(x: number, y: number, from: number): void {
    const { samplesAlong, samplesAcross, stepsPerDose, steps, surface } = this.model;
    const { dose, firstDose, secondDose, weights, sums, cases } = this;
    const width = this.tile.columns * samplesAlong;
    for (let k = 0; k < cases; k++) sums[k] = 0;
    for (let j = 0; j < samplesAcross; j++) {
      const at = (y * samplesAcross + j) * width + x * samplesAlong;
      const first = weights[2 * j];
      const second = weights[2 * j + 1];
      for (let i = 0; i < samplesAlong; i++) {
        const here =
          (dose[at + i] + first * firstDose[from + i] + second * secondDose[from + i]) * stepsPerDose;
        // Rounding may leave a dose just below zero.
        const place = here < 0 ? 0 : here < steps ? here : steps - 1e-9;
        const step = place | 0;
        const part = place - step;
        for (let k = 0; k < cases; k++) {
          const table = surface[k];
          sums[k] += table[step] + part * (table[step + 1] - table[step]);
        }
      }
    }
    for (let k = 0; k < cases; k++) sums[k] /= samplesAlong * samplesAcross;
  }

  /** Tries a change: what is linear of the change of J. */
  private attempt(x: number, y: number, step: number, otherX: number, otherY: number): number {
    this.plan(x, y, step, otherX, otherY);
    const { model, tile, left, right, top, bottom, cases, sums, changed, change, luminance } = this;
    const { columns, weight, pull } = tile;
    const { samplesAlong } = model;
    let first = 0;
    for (let v = top, at = 0; v <= bottom; v++) {
      this.weigh(v);
      for (let u = left; u <= right; u++, at++) {
        const pixel = v * columns + u;
        this.respondAt(u, v, (u - left) * samplesAlong);
        for (let k = 0; k < cases; k++) {
          const by = sums[k] - luminance[k][pixel];
          changed[k][at] = sums[k];
          change[k][at] = weight[pixel] * by;
          first += 2 * by * pull[k][pixel];
        }
      }
    }
    return first;
  }

  /** The box that a change reaches, and its doses along the lines. */
  private plan(x: number, y: number, step: number, otherX: number, otherY: number): void {
    const { across, samplesAlong, levels } = this.model;
    const { columns, rows, codes } = this.tile;
    const isSwap = otherX !== NONE;
    const reach = (pixel: number, line: LineMark, side: 1 | -1): number => {
      const burst = line.bursts?.direction === side ? burstReach(line) : 0;
      return side === 1 ? pixel + line.after + burst : pixel - line.before - burst;
    };
    const line = this.lineOf(y);
    const other = isSwap ? this.lineOf(otherY) : line;
    this.left = isSwap ? Math.min(reach(x, line, -1), reach(otherX, other, -1)) : reach(x, line, -1);
    this.right = isSwap ? Math.max(reach(x, line, 1), reach(otherX, other, 1)) : reach(x, line, 1);
    this.top = (isSwap ? Math.min(y, otherY) : y) - across.before;
    this.bottom = (isSwap ? Math.max(y, otherY) : y) + across.after;
    if (this.left < 0 || this.top < 0 || this.right >= columns || this.bottom >= rows)
      throw new RangeError("A change reaches beyond the tile.");
    this.firstLine = y;
    this.secondLine = isSwap && otherY !== y ? otherY : NONE;
    const used = (this.right - this.left + 1) * samplesAlong;
    this.firstDose.fill(0, 0, used);
    this.secondDose.fill(0, 0, used);
    const to = (out: Float64Array) => ({ out, left: this.left, samples: samplesAlong });
    const row = { codes, from: y * columns, columns };
    addPixelChange(line, row, { x, levels, step }, to(this.firstDose));
    if (!isSwap) return;
    const same = otherY === y;
    // The second pixel of a line sees the first one changed: its burst may have begun or ended there.
    if (same) codes[y * columns + x] += step;
    addPixelChange(
      other,
      { codes, from: otherY * columns, columns },
      { x: otherX, levels, step: -step },
      to(same ? this.firstDose : this.secondDose),
    );
    if (same) codes[y * columns + x] -= step;
  }

  /** Shares of the two lines' doses at the samples of a row. */
  private weigh(v: number): void {
    const { across, samplesAcross } = this.model;
    for (let j = 0; j < samplesAcross; j++) {
      this.weights[2 * j] = doseAcross(across, v - this.firstLine, j, samplesAcross);
      this.weights[2 * j + 1] =
        this.secondLine === NONE ? 0 : doseAcross(across, v - this.secondLine, j, samplesAcross);
    }
  }

  /** What the changes of the last trial add to J among themselves. */
  private secondOrder(): number {
    const { left, right, top, bottom, cases, change, seen } = this;
    const { coupling, eye } = this.model;
    const width = right - left + 1;
    const height = bottom - top + 1;
    let sum = 0;
    for (let k = 0; k < cases; k++) {
      const given = change[k];
      const out = seen[k];
      for (let v = 0, at = 0; v < height; v++) {
        for (let u = 0; u < width; u++, at++) {
          let here = 0;
          for (let j = 0, from = 0; j < height; j++) {
            const line = Math.abs(j - v) * (eye.reachAlong + 1);
            for (let i = 0; i < width; i++, from++) here += given[from] * eye.seen[line + Math.abs(i - u)];
          }
          out[at] = here;
        }
      }
    }
    const length = width * height;
    for (let j = 0; j < cases; j++) {
      for (let k = 0; k < cases; k++) {
        const together = coupling[j * cases + k];
        if (together === 0) continue;
        let product = 0;
        for (let at = 0; at < length; at++) product += change[j][at] * seen[k][at];
        sum += together * product;
      }
    }
    return sum;
  }

  private keepDose(): void {
    const { left, right, top, bottom, dose, firstDose, secondDose, weights } = this;
    const { samplesAlong, samplesAcross } = this.model;
    const width = this.tile.columns * samplesAlong;
    const length = (right - left + 1) * samplesAlong;
    for (let v = top; v <= bottom; v++) {
      this.weigh(v);
      for (let j = 0; j < samplesAcross; j++) {
        const at = (v * samplesAcross + j) * width + left * samplesAlong;
        const first = weights[2 * j];
        const second = weights[2 * j + 1];
        for (let i = 0; i < length; i++) dose[at + i] += first * firstDose[i] + second * secondDose[i];
      }
    }
  }

  private keepLuminance(): void {
    const { left, right, top, bottom } = this;
    const { columns } = this.tile;
    const width = right - left + 1;
    for (let k = 0; k < this.cases; k++) {
      for (let v = top, at = 0; v <= bottom; v++, at += width) {
        this.luminance[k].set(this.changed[k].subarray(at, at + width), v * columns + left);
      }
    }
  }

  /** Adds what the eye sees of the last changes to the pulls around. */
  private pullAnew(exactPx: number): void {
    const { cases, change, seen } = this;
    const { coupling } = this.model;
    const length = (this.right - this.left + 1) * (this.bottom - this.top + 1);
    for (let k = 0; k < cases; k++) {
      const acting = seen[k];
      acting.fill(0, 0, length);
      for (let j = 0; j < cases; j++) {
        const together = coupling[k * cases + j];
        if (together === 0) continue;
        for (let at = 0; at < length; at++) acting[at] += together * change[j][at];
      }
      this.pullNear(k, acting, exactPx);
      this.pullFar(k, acting, exactPx);
    }
  }

  private pullNear(k: number, acting: Float64Array, exactPx: number): void {
    const { left, right, top, bottom, tile } = this;
    const { columns, rows, weight } = tile;
    const { reachAlong, reachAcross, seen } = this.model.eye;
    const pull = tile.pull[k];
    const [fromX, toX] = [Math.max(0, left - exactPx), Math.min(columns - 1, right + exactPx)];
    const [fromY, toY] = [Math.max(0, top - exactPx), Math.min(rows - 1, bottom + exactPx)];
    for (let y = fromY; y <= toY; y++) {
      for (let v = top, at = 0; v <= bottom; v++) {
        const down = Math.abs(y - v);
        if (down > reachAcross) {
          at += right - left + 1;
          continue;
        }
        const line = down * (reachAlong + 1);
        for (let u = left; u <= right; u++, at++) {
          const by = acting[at];
          if (by === 0) continue;
          const [first, last] = [Math.max(fromX, u - reachAlong), Math.min(toX, u + reachAlong)];
          for (let x = first; x <= last; x++) {
            pull[y * columns + x] += weight[y * columns + x] * by * seen[line + Math.abs(x - u)];
          }
        }
      }
    }
  }

  /** Beyond the exact distance: the sum of the changes, and its first moment about the centre. */
  private pullFar(k: number, acting: Float64Array, exactPx: number): void {
    const { left, right, top, bottom, tile } = this;
    const { columns, rows, weight } = tile;
    const { reachAlong, reachAcross, seen, seenRight, seenDown } = this.model.eye;
    const pull = tile.pull[k];
    const [centreX, centreY] = [(left + right) >> 1, (top + bottom) >> 1];
    let [sum, momentX, momentY] = [0, 0, 0];
    for (let v = top, at = 0; v <= bottom; v++) {
      for (let u = left; u <= right; u++, at++) {
        sum += acting[at];
        momentX += acting[at] * (u - centreX);
        momentY += acting[at] * (v - centreY);
      }
    }
    const [fromX, toX] = [Math.max(0, centreX - reachAlong), Math.min(columns - 1, centreX + reachAlong)];
    const [fromY, toY] = [Math.max(0, centreY - reachAcross), Math.min(rows - 1, centreY + reachAcross)];
    const far = (y: number, first: number, last: number): void => {
      const down = y - centreY;
      const line = Math.abs(down) * (reachAlong + 1);
      const byY = down < 0 ? -momentY : momentY;
      for (let x = first; x <= last; x++) {
        const across = x - centreX;
        const at = line + Math.abs(across);
        const byX = across < 0 ? -momentX : momentX;
        const here = sum * seen[at] + byX * seenRight[at] + byY * seenDown[at];
        pull[y * columns + x] += weight[y * columns + x] * here;
      }
    };
    for (let y = fromY; y <= toY; y++) {
      if (y < top - exactPx || y > bottom + exactPx) {
        far(y, fromX, toX);
        continue;
      }
      far(y, fromX, Math.min(toX, left - exactPx - 1));
      far(y, Math.max(fromX, right + exactPx + 1), toX);
    }
  }
}

const widthOf = ({ before, after }: MarkProfile): number => before + 1 + after;

const burstReach = ({ bursts }: LineMark): number => (bursts ? reachOfBurst(bursts) : 0);

/** Dose at sample j of a row that lies so many rows below the line. */
function doseAcross(across: MarkProfile, rows: number, sample: number, samples: number): number {
  if (rows < -across.before || rows > across.after) return 0;
  return across.dose[(rows + across.before) * samples + sample];
}

/** Adds a mark to a line, cut at its ends. */
function addMark(line: Float64Array, dose: Float64Array, at: number, part: number): void {
  for (let i = Math.max(0, -at); i < dose.length && at + i < line.length; i++) line[at + i] += part * dose[i];
}
