import type { SearchTile } from "../../4-search/search-model.js";
import { type Sweep, TileSearch } from "../../4-search/tile-search.js";
import { EyePlanes } from "../../5-burn/eye-planes.js";
import { HALO_PX, reachOf } from "../../5-burn/judged-tiles.js";
import { predictLuminance } from "../../5-burn/predict.js";
import { modulo } from "../../core/modulo.js";
import { packBitmap, packedRow } from "../../core/packed-bits.js";
import { lightnessFromLuminance, lightnessSlope } from "../../core/physics/lightness.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { Job } from "../job.js";
import { viewingOf } from "../judge/viewing.js";
import type { SearchPlan } from "./search-plan.js";

/** A piece that is searched. Planes are [rows × columns]. */
export interface SearchedPiece {
  readonly columns: number;
  readonly rows: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly closed: boolean;
  /** Power levels before a pass. */
  readonly codes: Uint8Array;
  /** Codes of the wanted luminance on the grid. */
  readonly wanted: Uint16Array;
  /** `STAYS`, `SWAPS` or `MOVES`. */
  readonly moves: Uint8Array;
}

/** Sums over a tile, from which the tone shift of each case follows: see `ToneFit`. */
export interface ToneSums {
  readonly pixels: number;
  readonly wanted: number;
  readonly wantedSquares: number;
  /** [cases] */
  readonly errors: readonly number[];
  readonly squares: readonly number[];
  readonly withWanted: readonly number[];
}

/** The tone shift of a case: L* error = offset + slope · L* wanted. */
export interface ToneFit {
  readonly offset: number;
  readonly slope: number;
}

/** A tone shift counts a third (section 13), so eight ninths of its square are left out. */
const SHIFT_LEFT_OUT = 8 / 9;

/** Searches parts of a piece. Each depends on what the bitmap was before the pass, and on nothing else. */
export class TileWork {
  private readonly eye: EyePlanes;
  constructor(
    private readonly job: Job,
    private readonly plan: SearchPlan,
    private readonly piece: SearchedPiece,
    readonly sidePx: number,
  ) {
    const { options, memory } = job;
    this.eye = new EyePlanes({ memory, pitch: options.pitch, viewing: viewingOf(options) }, sidePx);
  }

  /** The sums of a tile, with its pulls if it is searched. */
  look(core: PixelRectangle, fits: readonly ToneFit[]) {
    const { piece, plan, job } = this;
    const seen = grown(core, HALO_PX, HALO_PX, piece);
    const { columns, rows } = seen;
    const predicted = this.predict(seen);
    const wanted = this.wantedOf(seen);
    const flat = (data: Float32Array) => ({ data, from: 0, stride: columns });
    const blurred = [wanted, ...predicted].map(() => new Float32Array(columns * rows));
    const planes = [wanted, ...predicted];
    for (let k = 0; k < planes.length; k += 2) {
      const other = Math.min(k + 1, planes.length - 1);
      this.eye.blur([flat(planes[k]), flat(planes[other])], seen, [blurred[k], blurred[other]]);
    }
    const [seenWanted, ...seenPredicted] = blurred;
    const wantedLightness = seenWanted.map(lightnessFromLuminance);
    const errors = seenPredicted.map((plane) =>
      plane.map((value, at) => lightnessFromLuminance(value) - wantedLightness[at]),
    );
    const sums = toneSums(core, seen, wantedLightness, errors);
    const judged = this.judgedIn(seen);
    const { shares, within } = plan;
    const last = shares.length - 1;
    const pulls = errors.map((error, k) => {
      const { offset, slope } = fits[k];
      return error.map((value, at) => {
        const shift = offset + slope * wantedLightness[at];
        const swing = within === 0 || (k !== 0 && k !== last) ? 0 : within * (errors[k][at] - errors[last - k][at]);
        return judged[at] * lightnessSlope(seenPredicted[k][at]) * (shares[k] * (value - SHIFT_LEFT_OUT * shift) + swing);
      });
    });
    for (let k = 0; k < pulls.length; k += 2) {
      const other = Math.min(k + 1, pulls.length - 1);
      this.eye.blur([flat(pulls[k]), flat(pulls[other])], seen, [pulls[k], pulls[other]]);
    }
    void job;
    return { seen, sums, pulls, seenWanted, predicted };
  }

  /** Searches a tile: changes pixels of its core in `out`. */
  search(core: PixelRectangle, fits: readonly ToneFit[], sweeps: number, out: Uint8Array): Sweep & { readonly sums: ToneSums } {
    const { piece, plan } = this;
    const { seen, sums, pulls, seenWanted } = this.look(core, fits);
    const { marginAlong, marginAcross } = plan;
    const area = {
      left: core.left - marginAlong,
      top: core.top - marginAcross,
      columns: core.columns + 2 * marginAlong,
      rows: core.rows + 2 * marginAcross,
    };
    const { columns, rows } = area;
    const tile: SearchTile = {
      ...{ columns, rows, firstRow: area.top & 1 },
      codes: areaOf(piece.codes, area, piece),
      moves: new Uint8Array(columns * rows),
      weight: new Float64Array(columns * rows),
      pull: pulls.map(() => new Float64Array(columns * rows)),
    };
    for (let y = 0; y < rows; y++) {
      const from = (area.top + y - seen.top) * seen.columns;
      if (area.top + y < seen.top || area.top + y >= seen.top + seen.rows) continue;
      for (let x = 0; x < columns; x++) {
        const at = area.left + x - seen.left;
        if (at < 0 || at >= seen.columns) continue;
        const to = y * columns + x;
        tile.weight[to] = lightnessSlope(seenWanted[from + at]);
        for (let k = 0; k < pulls.length; k++) tile.pull[k][to] = pulls[k][from + at];
      }
    }
    const inner = areaOf(piece.moves, core, piece);
    for (let y = 0; y < core.rows; y++) {
      tile.moves.set(
        inner.subarray(y * core.columns, (y + 1) * core.columns),
        (y + marginAcross) * columns + marginAlong,
      );
    }
    const release = this.job.memory.mark();
    const search = new TileSearch(plan.model, tile, plan.exactPx, this.job.memory);
    const done = { changes: 0, trials: 0, gain: 0 };
    for (let n = 0; n < sweeps; n++) {
      const sweep = search.sweep();
      done.changes += sweep.changes;
      done.trials += sweep.trials;
      done.gain += sweep.gain;
    }
    for (let y = 0; y < core.rows; y++) {
      for (let x = 0; x < core.columns; x++) {
        out[(core.top + y) * piece.columns + modulo(core.left + x, piece.columns)] =
          search.codes[(y + marginAcross) * columns + marginAlong + x];
      }
    }
    release();
    return { ...done, sums };
  }

  private predict(seen: PixelRectangle): Float32Array[] {
    const { job, plan, piece } = this;
    const { memory, model } = job;
    const reach = reachOf(model.plan);
    const grid = grown(seen, reach.alongPx, reach.acrossPx, piece);
    // Even and odd lines differ, and rows of bits are whole bytes.
    const top = grid.top - (grid.top & 1);
    const burned = { ...grid, top, rows: grid.rows + grid.top - top };
    const bitmap = packBitmap(areaOf(piece.codes, burned, piece), burned.columns, burned.rows, plan.model.levels);
    const firstRow = seen.top - burned.top;
    const planes = plan.doses.map(() => new Float32Array(burned.columns * seen.rows));
    predictLuminance(
      { plan: model.plan, response: model.response, memory },
      { columns: burned.columns, rows: burned.rows, row: (y) => packedRow(bitmap, y) },
      { firstRow, endRow: firstRow + seen.rows },
      { factors: plan.doses },
      planes,
    );
    return planes.map((plane) => {
      const out = new Float32Array(seen.columns * seen.rows);
      const from = seen.left - burned.left;
      for (let y = 0; y < seen.rows; y++) {
        const at = y * burned.columns + from;
        out.set(plane.subarray(at, at + seen.columns), y * seen.columns);
      }
      return out;
    });
  }

  private wantedOf(seen: PixelRectangle): Float32Array {
    const { wantedByCode } = this.job.model;
    return Float32Array.from(areaOf(this.piece.wanted, seen, this.piece), (code) => wantedByCode[code]);
  }

  /** 0 where the marks lack neighbours, at the edges of the piece. */
  private judgedIn(seen: PixelRectangle): Uint8Array {
    const { piece, plan } = this;
    const [along, across] = [plan.marginAlong >> 1, plan.marginAcross >> 1];
    const judged = new Uint8Array(seen.columns * seen.rows);
    for (let y = 0; y < seen.rows; y++) {
      const row = seen.top + y;
      if (row < across || row >= piece.rows - across) continue;
      for (let x = 0; x < seen.columns; x++) {
        const column = seen.left + x;
        const inside = piece.closed || (column >= along && column < piece.columns - along);
        judged[y * seen.columns + x] = inside ? 1 : 0;
      }
    }
    return judged;
  }
}

type PieceShape = Pick<SearchedPiece, "columns" | "rows" | "closed">;

function grown(area: PixelRectangle, along: number, across: number, piece: PieceShape): PixelRectangle {
  const [first, end] = piece.closed
    ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
    : [0, piece.columns];
  const left = Math.max(first, area.left - along);
  const top = Math.max(0, area.top - across);
  return {
    left,
    top,
    columns: Math.min(end, area.left + area.columns + along) - left,
    rows: Math.min(piece.rows, area.top + area.rows + across) - top,
  };
}

/** Part of a plane. Columns wrap around on a closed piece; beyond the piece there is 0. */
function areaOf<Values extends Uint8Array | Uint16Array>(
  plane: Values,
  { left, top, columns, rows }: PixelRectangle,
  piece: PieceShape,
): Values {
  const Plane = plane.constructor as new (length: number) => Values;
  const out = new Plane(columns * rows);
  for (let y = Math.max(0, -top); y < Math.min(rows, piece.rows - top); y++) {
    const from = (top + y) * piece.columns;
    for (let x = 0; x < columns; x++) {
      const column = piece.closed ? modulo(left + x, piece.columns) : left + x;
      if (column >= 0 && column < piece.columns) out[y * columns + x] = plane[from + column];
    }
  }
  return out;
}

function toneSums(
  core: PixelRectangle,
  seen: PixelRectangle,
  wanted: Float32Array,
  errors: readonly Float32Array[],
): ToneSums {
  const zero = () => errors.map(() => 0);
  const sums = { wanted: 0, wantedSquares: 0, errors: zero(), squares: zero(), withWanted: zero() };
  for (let y = 0; y < core.rows; y++) {
    const row = (core.top + y - seen.top) * seen.columns + core.left - seen.left;
    for (let at = row; at < row + core.columns; at++) {
      sums.wanted += wanted[at];
      sums.wantedSquares += wanted[at] ** 2;
      for (let k = 0; k < errors.length; k++) {
        sums.errors[k] += errors[k][at];
        sums.squares[k] += errors[k][at] ** 2;
        sums.withWanted[k] += errors[k][at] * wanted[at];
      }
    }
  }
  return { pixels: core.columns * core.rows, ...sums };
}
