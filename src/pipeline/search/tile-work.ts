import { type SearchTile, STAYS } from "../../4-search/search-model.js";
import { type Sweep, TileSearch } from "../../4-search/tile-search.js";
import { EyePlanes } from "../../5-burn/eye-planes.js";
import { HALO_PX, reachOf } from "../../5-burn/judged-tiles.js";
import { predictLuminance } from "../../5-burn/predict.js";
import { packBitmap, rowsOfBitmap } from "../../core/packed-bits.js";
import { lightnessFromLuminance, lightnessSlope } from "../../core/physics/lightness.js";
import { grownWithin, type PixelRectangle } from "../../core/pixel-rectangle.js";
import type { Job } from "../job.js";
import { viewingOf } from "../judge/viewing.js";
import { areaOf, type PieceGrid, putArea } from "./piece-planes.js";
import type { SearchPlan } from "./search-plan.js";
import type { ToneFit, ToneSums } from "./tone-fit.js";

/** Side of the square that is filtered at once: the core of a tile and what the eye blurs into it. */
const SIDE_PX = 512;

/** Side of the largest core of a tile. */
export const CORE_PX = SIDE_PX - 2 * HALO_PX;

/** The planes of a piece that is searched, [rows × columns]. */
export interface SearchedPlanes extends PieceGrid {
  /** Power levels before a pass, and after it. */
  readonly codes: Uint8Array;
  readonly after: Uint8Array;
  /** Codes of the wanted luminance on the grid. */
  readonly wanted: Uint16Array;
  /** `STAYS`, `SWAPS` or `MOVES`. */
  readonly moves: Uint8Array;
  /** [rows] Dose of each row of a cone, as multiples of the nominal dose. A search's own model leaves it out. */
  readonly rowDoses?: Float64Array | undefined;
}

/** A part of a piece that is searched alone. */
export interface TileRequest {
  readonly core: PixelRectangle;
  /** Pixels of the core that do not change at its sides, because another tile begins there. */
  readonly still: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  /** [cases] The tone shift of the whole piece. */
  readonly fits: readonly ToneFit[];
  /** See `Pass`. */
  readonly nearness: number;
  readonly sweeps: number;
}

/** What became of a tile. */
export interface TileOutcome extends Sweep {
  /** Before the search. */
  readonly sums: ToneSums;
}

/** What the eye sees of a tile, with its halo. */
interface Seen {
  readonly area: PixelRectangle;
  readonly wanted: Float32Array;
  readonly wantedLightness: Float32Array;
  /** [cases] Predicted luminance factors, and their errors in L*. */
  readonly predicted: readonly Float32Array[];
  readonly errors: readonly Float32Array[];
  /** 0 where marks lack neighbours, at the edges of the piece. */
  readonly judged: Uint8Array;
}

/**
 * Searches a piece tile by tile. What a tile becomes depends on the piece before the pass and on nothing else, so tiles may be
 * searched in any order, on any thread.
 *
 * A pass begins with the truth: the exposure and the eye's filter of the product itself give the pull ½ ∂J/∂(luminance factor) on
 * every pixel. What the search's own, coarser model leaves wrong is thus found and mended in the next pass.
 */
export class TileWork {
  constructor(
    private readonly job: Job,
    private readonly plan: SearchPlan,
    private readonly planes: SearchedPlanes,
  ) {}

  /** Errors of a tile, as seen from so many times nearer than the piece will be. */
  measure(core: PixelRectangle, nearness: number): ToneSums {
    const release = this.job.memory.mark();
    const sums = this.sumsOver(core, this.see(core, this.eyeFrom(nearness)));
    release();
    return sums;
  }

  /** Searches a tile, and writes its core to the planes after the pass. */
  search({ core, still, fits, nearness, sweeps }: TileRequest): TileOutcome {
    const release = this.job.memory.mark();
    const eye = this.eyeFrom(nearness);
    const seen = this.see(core, eye);
    const tile = this.tileOf(core, seen, this.pullsOf(seen, eye, fits));
    this.allow(tile, core, still);
    const { modelFrom, reach, exactPx } = this.plan;
    const search = new TileSearch(modelFrom(nearness), tile, exactPx, this.job.memory);
    const done = { changes: 0, trials: 0, gain: 0 };
    for (let n = 0; n < sweeps; n++) {
      const { changes, trials, gain } = search.sweep();
      done.changes += changes;
      done.trials += trials;
      done.gain += gain;
    }
    const codes = new Uint8Array(core.columns * core.rows);
    for (let y = 0; y < core.rows; y++) {
      const from = (y + 2 * reach.across) * tile.columns + 2 * reach.along;
      codes.set(search.codes.subarray(from, from + core.columns), y * core.columns);
    }
    putArea(this.planes, this.planes.after, core, codes);
    release();
    return { ...done, sums: this.sumsOver(core, seen) };
  }

  private eyeFrom(nearness: number): EyePlanes {
    const { options, memory } = this.job;
    const viewing = viewingOf(options);
    const nearer = { ...viewing, distanceMm: viewing.distanceMm / nearness };
    return new EyePlanes({ memory, pitch: options.pitch, viewing: nearer }, SIDE_PX);
  }

  private see(core: PixelRectangle, eye: EyePlanes): Seen {
    const { planes, job } = this;
    const area = grownWithin(planes, core, HALO_PX, HALO_PX);
    const { wantedByCode } = job.model;
    const wanted = Float32Array.from(areaOf(planes, planes.wanted, area), (code) => wantedByCode[code]);
    const judged = this.judgedIn(area);
    const seen = [wanted, ...this.predict(area).map((plane) => withoutEdges(plane, wanted, judged))];
    blur(eye, seen, area);
    const wantedLightness = seen[0].map(lightnessFromLuminance);
    const predicted = seen.slice(1);
    const errors = predicted.map((plane) =>
      plane.map((value, at) => lightnessFromLuminance(value) - wantedLightness[at]),
    );
    return { area, wanted: seen[0], wantedLightness, predicted, errors, judged };
  }

  /** Predicted luminance factors of an area, [cases] of [rows × columns]. */
  private predict(area: PixelRectangle): Float32Array[] {
    const { job, plan, planes } = this;
    const { memory, model } = job;
    const reach = reachOf(model.plan);
    const grown = grownWithin(planes, area, reach.alongPx, reach.acrossPx);
    // Even and odd lines differ.
    const odd = grown.top & 1;
    const burned = { ...grown, top: grown.top - odd, rows: grown.rows + odd };
    const codes = areaOf(planes, planes.codes, burned);
    const bitmap = packBitmap(codes, burned.columns, burned.rows, job.options.levels);
    const firstRow = area.top - burned.top;
    const wide = plan.doses.map(() => new Float32Array(burned.columns * area.rows));
    predictLuminance(
      { plan: model.plan, response: model.response, memory },
      rowsOfBitmap(bitmap),
      { firstRow, endRow: firstRow + area.rows },
      { factors: plan.doses, doseOfRow: (y) => planes.rowDoses?.[burned.top + y] ?? 1 },
      wide,
    );
    return wide.map((plane) => {
      const out = new Float32Array(area.columns * area.rows);
      for (let y = 0; y < area.rows; y++) {
        const from = y * burned.columns + area.left - burned.left;
        out.set(plane.subarray(from, from + area.columns), y * area.columns);
      }
      return out;
    });
  }

  /** ½ ∂J/∂(luminance factor) of each case. The filter is symmetric: it passes errors back as it passed luminance on. */
  private pullsOf(
    { area, wantedLightness, predicted, errors, judged }: Seen,
    eye: EyePlanes,
    fits: readonly ToneFit[],
  ): Float32Array[] {
    const { shares, within, shiftsLeftOut } = this.plan;
    const last = shares.length - 1;
    const pulls = errors.map((error, k) => {
      const { offset, slope } = fits[k];
      const opposite = k === 0 || k === last ? errors[last - k] : error;
      return error.map((value, at) => {
        if (judged[at] === 0) return 0;
        const shift = offset + slope * wantedLightness[at];
        const force = shares[k] * (value - shiftsLeftOut[k] * shift) + within * (value - opposite[at]);
        return lightnessSlope(predicted[k][at]) * force;
      });
    });
    blur(eye, pulls, area);
    return pulls;
  }

  /** 0 where marks lack neighbours, at the edges of the piece. */
  private judgedIn(area: PixelRectangle): Uint8Array {
    const { planes, plan } = this;
    const { along, across } = plan.reach;
    const judged = new Uint8Array(area.columns * area.rows);
    for (let y = 0; y < area.rows; y++) {
      const row = area.top + y;
      if (row < across || row >= planes.rows - across) continue;
      const [first, end] = planes.closed
        ? [0, area.columns]
        : [along - area.left, planes.columns - along - area.left];
      judged.fill(1, y * area.columns + Math.max(0, first), y * area.columns + Math.min(area.columns, end));
    }
    return judged;
  }

  /** The core with all around it that its changes touch. Beyond what is seen nothing counts. */
  private tileOf(core: PixelRectangle, seen: Seen, pulls: readonly Float32Array[]): SearchTile {
    const { planes, plan } = this;
    const { along, across } = plan.reach;
    const area = {
      left: core.left - 2 * along,
      top: core.top - 2 * across,
      columns: core.columns + 4 * along,
      rows: core.rows + 4 * across,
    };
    const length = area.columns * area.rows;
    const weight = new Float64Array(length);
    const pull = pulls.map(() => new Float64Array(length));
    const fromX = Math.max(0, seen.area.left - area.left);
    const toX = Math.min(area.columns, seen.area.left + seen.area.columns - area.left);
    for (let y = 0; y < area.rows; y++) {
      const row = area.top + y - seen.area.top;
      if (row < 0 || row >= seen.area.rows) continue;
      for (let x = fromX; x < toX; x++) {
        const from = row * seen.area.columns + area.left + x - seen.area.left;
        weight[y * area.columns + x] = seen.judged[from] === 0 ? 0 : lightnessSlope(seen.wanted[from]);
        for (let k = 0; k < pulls.length; k++) pull[k][y * area.columns + x] = pulls[k][from];
      }
    }
    return {
      ...{ columns: area.columns, rows: area.rows, firstRow: area.top & 1, weight, pull },
      codes: areaOf(planes, planes.codes, area),
      moves: new Uint8Array(length),
    };
  }

  /** What may change in the core. */
  private allow(tile: SearchTile, core: PixelRectangle, still: TileRequest["still"]): void {
    const { planes, plan } = this;
    const moves = areaOf(planes, planes.moves, core);
    for (let y = 0; y < core.rows; y++) {
      const row = moves.subarray(y * core.columns, (y + 1) * core.columns);
      if (y < still.top || y >= core.rows - still.bottom) row.fill(STAYS);
      row.fill(STAYS, 0, still.left);
      row.fill(STAYS, Math.max(0, core.columns - still.right));
      tile.moves.set(row, (y + 2 * plan.reach.across) * tile.columns + 2 * plan.reach.along);
    }
  }

  /** Over what is judged of the core: the pale outermost strip of a piece tells nothing of its tones. */
  private sumsOver(core: PixelRectangle, { area, wantedLightness: wanted, errors, judged }: Seen): ToneSums {
    const zeros = () => errors.map(() => 0);
    const sums = { wanted: 0, wantedSquares: 0, errors: zeros(), squares: zeros(), withWanted: zeros() };
    let pixels = 0;
    for (let y = 0; y < core.rows; y++) {
      const row = (core.top + y - area.top) * area.columns + core.left - area.left;
      for (let at = row; at < row + core.columns; at++) {
        if (judged[at] === 0) continue;
        pixels++;
        sums.wanted += wanted[at];
        sums.wantedSquares += wanted[at] ** 2;
        for (let k = 0; k < errors.length; k++) {
          sums.errors[k] += errors[k][at];
          sums.squares[k] += errors[k][at] ** 2;
          sums.withWanted[k] += errors[k][at] * wanted[at];
        }
      }
    }
    return { pixels, ...sums };
  }
}

/**
 * Marks at the edges of a piece lack neighbours, and nothing mends that. Their pale strip counts as right: its glare would be made up for
 * by a dark line beside it.
 */
function withoutEdges(predicted: Float32Array, wanted: Float32Array, judged: Uint8Array): Float32Array {
  return predicted.map((value, at) => (judged[at] === 0 ? wanted[at] : value));
}

/** Filters planes by the eye, two at once. */
function blur(eye: EyePlanes, planes: readonly Float32Array[], area: PixelRectangle): void {
  const dense = (data: Float32Array) => ({ data, from: 0, stride: area.columns });
  for (let k = 0; k < planes.length; k += 2) {
    const first = planes[k];
    const second = planes[Math.min(k + 1, planes.length - 1)];
    eye.blur([dense(first), dense(second)], area, [first, second]);
  }
}
