import { noise2 } from "./noise.js";
import type { Vec3 } from "./vec.js";

/** Diamond-mesh netting as knots and the bars between them, metres. */
export interface Net {
  readonly columns: number;
  readonly rows: number;
  /** Three numbers a knot, row by row. */
  readonly knots: Float64Array;
  /** Two knot indices a bar. */
  readonly bars: Uint32Array;
}

export interface NetOptions {
  readonly columns: number;
  readonly rows: number;
  readonly barLength: number;
  /** Where the rope holds the top knot of a column, `t` in 0..1 along the rope. */
  readonly headRope: (t: number) => Vec3;
  /** Knots held elsewhere: column, row, place. */
  readonly ties: readonly (readonly [number, number, Vec3])[];
  /** Least distance from the wall z = 0. */
  readonly clearance: number;
}

const STEPS = 420;
const RELAXATIONS = 14;
const GRAVITY_STEP = 9.81 * 0.008 ** 2;

/** Each knot hangs from two of the row above, alternately left and right. */
const listBars = (columns: number, rows: number): Uint32Array => {
  const bars: number[] = [];
  for (let j = 0; j + 1 < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const here = j * columns + i;
      const other = i + (j % 2 === 0 ? -1 : 1);
      bars.push(here, here + columns);
      if (other >= 0 && other < columns) bars.push(here, (j + 1) * columns + other);
    }
  }
  return Uint32Array.from(bars);
};

/** Lets the net fall to rest: position steps with relaxed bar lengths (T. Jakobsen, 2001). */
export const drapeNet = (o: NetOptions): Net => {
  const { columns, rows, barLength } = o;
  const count = columns * rows;
  const knots = new Float64Array(3 * count);
  const held = new Uint8Array(count);
  for (let k = 0; k < count; k++) {
    const i = k % columns;
    const j = Math.floor(k / columns);
    const [x, y, z] = o.headRope((i + (j % 2) * 0.5) / columns);
    const fold = 0.035 * noise2(i * 0.22, j * 0.03) + 0.012 * noise2(i * 0.7 + 9, j * 0.12);
    knots.set([x, y - 0.9 * barLength * j, Math.max(o.clearance, z + (j === 0 ? 0 : 0.02 + fold))], 3 * k);
    if (j === 0) held[k] = 1;
  }
  const before = Float64Array.from(knots);
  const start = Float64Array.from(knots);
  const tied = o.ties.map(([i, j, place]) => [j * columns + i, place] as const);
  for (const [k] of tied) held[k] = 1;
  const bars = listBars(columns, rows);

  for (let step = 0; step < STEPS; step++) {
    const pull = Math.min(1, step / (0.6 * STEPS));
    for (const [k, place] of tied) {
      for (let c = 0; c < 3; c++) knots[3 * k + c] = start[3 * k + c] + pull * (place[c] - start[3 * k + c]);
    }
    for (let k = 0; k < count; k++) {
      if (held[k]) continue;
      for (let c = 0; c < 3; c++) {
        const now = knots[3 * k + c];
        knots[3 * k + c] = now + 0.96 * (now - before[3 * k + c]) - (c === 1 ? GRAVITY_STEP : 0);
        before[3 * k + c] = now;
      }
    }
    for (let r = 0; r < RELAXATIONS; r++) relax(knots, held, bars, barLength);
    for (let k = 0; k < count; k++) knots[3 * k + 2] = Math.max(o.clearance, knots[3 * k + 2]);
  }
  return { columns, rows, knots, bars };
};

/** Moves the ends of every overlong bar together; twine cannot push, so short bars stay. */
const relax = (knots: Float64Array, held: Uint8Array, bars: Uint32Array, barLength: number): void => {
  for (let b = 0; b < bars.length; b += 2) {
    const p = bars[b];
    const q = bars[b + 1];
    const dx = knots[3 * q] - knots[3 * p];
    const dy = knots[3 * q + 1] - knots[3 * p + 1];
    const dz = knots[3 * q + 2] - knots[3 * p + 2];
    const long = Math.sqrt(dx * dx + dy * dy + dz * dz);
    // A little stiffness keeps meshes from closing altogether.
    const excess =
      long > barLength
        ? 1 - barLength / long
        : long < 0.8 * barLength
          ? 0.1 * (1 - (0.8 * barLength) / (long + 1e-9))
          : 0;
    if (excess === 0) continue;
    const pMoves = held[p] ? 0 : held[q] ? 1 : 0.5;
    const qMoves = held[q] ? 0 : held[p] ? 1 : 0.5;
    knots[3 * p] += dx * excess * pMoves;
    knots[3 * p + 1] += dy * excess * pMoves;
    knots[3 * p + 2] += dz * excess * pMoves;
    knots[3 * q] -= dx * excess * qMoves;
    knots[3 * q + 1] -= dy * excess * qMoves;
    knots[3 * q + 2] -= dz * excess * qMoves;
  }
};
