import type { DoseCase, PixelDose, SearchModel, SearchTile } from "./search-model.js";

/** No second pixel. */
const NONE = -1;

/** A rectangle of pixels, ends included. */
interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/**
 * A search over one tile: direct binary search (M. Analoui, J. P. Allebach, "Model-based halftoning using direct binary search", Proc.
 * SPIE 1666, 1992) with the burn in the loop. What is lowered is
 *
 *     J = Σ over dose cases of share · Σ e(k) e(l) eye(k − l),   e = slope · (luminance factor − target)
 *
 * The luminance factor of a pixel is the mean over its samples of the surface's response to the dose, so what a change does is no sum of
 * what its pixels do, and is computed anew for each trial. Everything is in double precision.
 */
export class TileSearch {
  /** [rows · samplesAcross × columns · samplesAlong] */
  private readonly dose: Float64Array;
  /** For each dose case: luminance factors, and the error seen from each pixel, Σ e(l) eye(k − l). */
  private readonly luminance: readonly Float64Array[];
  private readonly seen: readonly Float64Array[];
  /** Pixels that the last trial changed; for each dose case their luminance factors then, and the changes of e. */
  private readonly box: Box = { left: 0, top: 0, right: 0, bottom: 0 };
  private readonly stride: number;
  private readonly then: readonly Float64Array[];
  private readonly change: readonly Float64Array[];

  constructor(
    private readonly model: SearchModel,
    private readonly tile: SearchTile,
    private readonly cases: readonly DoseCase[],
  ) {
    const { columns, rows, codes } = tile;
    const { samplesAlong, samplesAcross, evenLines } = model;
    this.dose = new Float64Array(columns * samplesAlong * rows * samplesAcross);
    this.luminance = cases.map(() => new Float64Array(columns * rows));
    this.seen = cases.map(() => new Float64Array(columns * rows));
    // Two neighbours reach one pixel further than one.
    this.stride = 2 * evenLines.reachAlong + 2;
    const most = this.stride * (2 * evenLines.reachAcross + 2);
    this.then = cases.map(() => new Float64Array(most));
    this.change = cases.map(() => new Float64Array(most));
    for (let k = 0; k < codes.length; k++) {
      if (codes[k] > 0) this.burn(k % columns, Math.floor(k / columns), codes[k]);
    }
    this.look();
  }

  /** J by its definition. Slow: for tests. */
  cost(): number {
    return this.cases.reduce((sum, { share }, n) => sum + share * this.energy(this.errors(n)), 0);
  }

  /** How much J changes if a pixel goes one power level up (1) or down (−1), and another the other way. */
  gain(x: number, y: number, step: number, otherX = NONE, otherY = NONE): number {
    const first = this.attempt(x, y, step, otherX, otherY);
    // The second order is never negative: an eye sees each change by itself.
    return first >= 0 ? first : first + this.secondOrder();
  }

  accept(x: number, y: number, step: number, otherX = NONE, otherY = NONE): void {
    const { codes, columns } = this.tile;
    this.attempt(x, y, step, otherX, otherY);
    this.burn(x, y, step);
    codes[y * columns + x] += step;
    if (otherX !== NONE) {
      this.burn(otherX, otherY, -step);
      codes[otherY * columns + otherX] -= step;
    }
    for (let n = 0; n < this.cases.length; n++) this.keep(n);
  }

  /** Luminance factors and seen errors anew from the dose. */
  look(): void {
    const { columns, rows } = this.tile;
    this.cases.forEach(({ dose }, n) => {
      const luminance = this.luminance[n];
      for (let y = 0, k = 0; y < rows; y++) {
        for (let x = 0; x < columns; x++, k++) luminance[k] = this.luminanceOf(x, y, dose);
      }
      const errors = this.errors(n);
      for (let y = 0, k = 0; y < rows; y++) {
        for (let x = 0; x < columns; x++, k++) this.seen[n][k] = this.seenFrom(errors, x, y);
      }
    });
  }

  private footprint(y: number): PixelDose {
    const { evenLines, oddLines } = this.model;
    return (this.tile.firstRow + y) & 1 ? oddLines : evenLines;
  }

  /** Adds the dose of so many power levels. */
  private burn(x: number, y: number, levels: number): void {
    const { columns, rows } = this.tile;
    const { samplesAlong, samplesAcross } = this.model;
    const { reachAlong, reachAcross, dose } = this.footprint(y);
    const part = levels / (this.model.levels - 1);
    const width = columns * samplesAlong;
    const side = (2 * reachAlong + 1) * samplesAlong;
    const left = (x - reachAlong) * samplesAlong;
    const top = (y - reachAcross) * samplesAcross;
    const from = Math.max(0, left);
    const to = Math.min(width, left + side);
    for (let r = 0; r < (2 * reachAcross + 1) * samplesAcross; r++) {
      const row = top + r;
      if (row < 0 || row >= rows * samplesAcross) continue;
      for (let c = from; c < to; c++) this.dose[row * width + c] += part * dose[r * side + c - left];
    }
  }

  private luminanceOf(x: number, y: number, doseFactor: number): number {
    const { samplesAlong, samplesAcross } = this.model;
    const width = this.tile.columns * samplesAlong;
    let sum = 0;
    for (let j = 0; j < samplesAcross; j++) {
      const at = (y * samplesAcross + j) * width + x * samplesAlong;
      for (let i = 0; i < samplesAlong; i++) sum += this.response(doseFactor * this.dose[at + i]);
    }
    return sum / (samplesAlong * samplesAcross);
  }

  private response(dose: number): number {
    const { stepsPerDose, luminance } = this.model.surface;
    const at = dose * stepsPerDose;
    const step = at | 0;
    return luminance[step] + (at - step) * (luminance[step + 1] - luminance[step]);
  }

  /** e of every pixel. */
  private errors(n: number): Float64Array {
    const { slope, targets } = this.tile;
    return this.luminance[n].map((luminance, k) => slope[k] * (luminance - targets[n][k]));
  }

  private seenFrom(errors: Float64Array, x: number, y: number): number {
    const { columns, rows } = this.tile;
    const { eye } = this.model;
    let sum = 0;
    for (let v = Math.max(0, y - eye.rows + 1); v < Math.min(rows, y + eye.rows); v++) {
      const line = Math.abs(v - y) * eye.columns;
      for (let u = Math.max(0, x - eye.columns + 1); u < Math.min(columns, x + eye.columns); u++) {
        sum += errors[v * columns + u] * eye.seen[line + Math.abs(u - x)];
      }
    }
    return sum;
  }

  private energy(errors: Float64Array): number {
    const { columns } = this.tile;
    return errors.reduce(
      (sum, error, k) =>
        sum + (error === 0 ? 0 : error * this.seenFrom(errors, k % columns, Math.floor(k / columns))),
      0,
    );
  }

  /** Tries a change: what is linear of the change of J. */
  private attempt(x: number, y: number, step: number, otherX: number, otherY: number): number {
    const { columns, rows, slope } = this.tile;
    const { reachAlong, reachAcross } = this.footprint(y);
    const isSwap = otherX !== NONE;
    const { box, stride, cases } = this;
    box.left = Math.max(0, (isSwap ? Math.min(x, otherX) : x) - reachAlong);
    box.right = Math.min(columns - 1, (isSwap ? Math.max(x, otherX) : x) + reachAlong);
    box.top = Math.max(0, (isSwap ? Math.min(y, otherY) : y) - reachAcross);
    box.bottom = Math.min(rows - 1, (isSwap ? Math.max(y, otherY) : y) + reachAcross);
    this.burn(x, y, step);
    if (isSwap) this.burn(otherX, otherY, -step);
    let first = 0;
    for (let n = 0; n < cases.length; n++) {
      const { dose, share } = cases[n];
      const [luminance, seen, then, change] = [this.luminance[n], this.seen[n], this.then[n], this.change[n]];
      for (let v = box.top; v <= box.bottom; v++) {
        for (let u = box.left, at = (v - box.top) * stride; u <= box.right; u++, at++) {
          const k = v * columns + u;
          then[at] = this.luminanceOf(u, v, dose);
          change[at] = slope[k] * (then[at] - luminance[k]);
          first += 2 * share * change[at] * seen[k];
        }
      }
    }
    this.burn(x, y, -step);
    if (isSwap) this.burn(otherX, otherY, step);
    return first;
  }

  /** What the changes of the last trial add to J among themselves. */
  private secondOrder(): number {
    const { box, stride } = this;
    const { seen, columns } = this.model.eye;
    const width = box.right - box.left + 1;
    const height = box.bottom - box.top + 1;
    let sum = 0;
    this.cases.forEach(({ share }, n) => {
      const change = this.change[n];
      for (let v = 0; v < height; v++) {
        for (let u = 0; u < width; u++) {
          let here = 0;
          for (let j = 0; j < height; j++) {
            const line = Math.abs(j - v) * columns;
            for (let i = 0; i < width; i++) here += change[j * stride + i] * seen[line + Math.abs(i - u)];
          }
          sum += share * change[v * stride + u] * here;
        }
      }
    });
    return sum;
  }

  /** Keeps what the last trial changed. */
  private keep(n: number): void {
    const { columns, rows } = this.tile;
    const { eye } = this.model;
    const { box, stride } = this;
    const [luminance, seen, then, change] = [this.luminance[n], this.seen[n], this.then[n], this.change[n]];
    for (let v = box.top; v <= box.bottom; v++) {
      for (let u = box.left; u <= box.right; u++) {
        const at = (v - box.top) * stride + u - box.left;
        luminance[v * columns + u] = then[at];
        const by = change[at];
        if (by === 0) continue;
        for (let q = Math.max(0, v - eye.rows + 1); q < Math.min(rows, v + eye.rows); q++) {
          const line = Math.abs(q - v) * eye.columns;
          for (let p = Math.max(0, u - eye.columns + 1); p < Math.min(columns, u + eye.columns); p++) {
            seen[q * columns + p] += by * eye.seen[line + Math.abs(p - u)];
          }
        }
      }
    }
  }
}
