import type { KernelMemory } from "../core/kernel-memory.js";
import { reachOfBurst } from "./line-change.js";
import type { LineMark, MarkProfile, SearchModel, SearchTile } from "./search-model.js";

/**
 * Everything that a search of one tile keeps, in arrays that plain and vector kernels share. Planes are [rows × columns], and those of
 * several cases lie one after the other.
 */
export interface SearchState {
  readonly memory: KernelMemory;
  readonly model: SearchModel;
  readonly columns: number;
  readonly rows: number;
  readonly firstRow: number;
  readonly cases: number;
  /** See `TileSearch.accept`. */
  readonly exactPx: number;
  readonly codes: Uint8Array;
  readonly moves: Uint8Array;
  readonly weight: Float64Array;
  readonly pull: Float64Array;
  readonly luminance: Float64Array;
  /** [rows · samplesAcross × columns · samplesAlong] in units of a solid fill. */
  readonly dose: Float64Array;
  /** [steps + 1 × cases] */
  readonly surface: Float64Array;
  /**
   * How far the best change of a pixel was from lowering J at its last visit, and the sum of its pulls then. A pixel whose surroundings
   * changed has the slack `VISIT`.
   */
  readonly slack: Float64Array;
  readonly rest: Float64Array;
  /** The last trial. */
  readonly trial: Trial;
  /** What a sweep did so far: changes, trials; and the sum of the changes of J. */
  readonly counts: Int32Array;
  readonly gained: Float64Array;
  /** The addresses and numbers that the vector kernels read: see `src/simd/search-fields.ts`. */
  readonly fields: Int32Array;
}

/** The pixels that a change reaches, its doses along one or two lines, and what becomes of the luminance factors. */
export interface Trial {
  /** left, right, top, bottom of its box, first and second line. */
  readonly box: Int32Array;
  readonly firstDose: Float64Array;
  readonly secondDose: Float64Array;
  /** [cases × `boxLength`] Luminance factors afterwards, and their weighed changes. */
  readonly after: Float64Array;
  readonly change: Float64Array;
  /** [`boxLength`] The changes that act on one case. */
  readonly acting: Float64Array;
  readonly boxLength: number;
  /** [rows of a box × `columns`] The eye's kernel to both sides of its `middle`. */
  readonly eye: { readonly seen: Float64Array; readonly columns: number; readonly middle: number };
  /** [samplesAcross × 2] shares of the two lines at the samples of a row. */
  readonly shares: Float64Array;
  /** [cases × 2] Luminance factors of a pixel, in two lanes. */
  readonly sums: Float64Array;
}

/** No second pixel, or no second line. */
export const NONE = -1;

/** Slack of a pixel that must be visited. */
export const VISIT = -1;

export function createSearchState(
  model: SearchModel,
  tile: SearchTile,
  exactPx: number,
  memory: KernelMemory,
): SearchState {
  const { columns, rows, firstRow } = tile;
  const { samplesAlong, samplesAcross, steps } = model;
  const cases = model.surface.length;
  const pixels = columns * rows;
  const doubles = (values: ArrayLike<number>): Float64Array => {
    const array = memory.float64(values.length);
    array.set(values);
    return array;
  };
  const bytes = (values: Uint8Array): Uint8Array => {
    const array = memory.uint8(values.length);
    array.set(values);
    return array;
  };
  const { along, across: boxAcross } = largestBox(model);
  const boxLength = along * boxAcross;
  if (along > model.eye.reachAlong + 1 || boxAcross > model.eye.reachAcross + 1)
    throw new RangeError("The eye's kernel is smaller than a change.");
  const surface = memory.float64((steps + 1) * cases);
  model.surface.forEach((table, k) => {
    for (let step = 0; step <= steps; step++) surface[step * cases + k] = table[step];
  });
  const pull = memory.float64(cases * pixels);
  tile.pull.forEach((plane, k) => {
    pull.set(plane, k * pixels);
  });
  const state = {
    ...{ memory, model, columns, rows, firstRow, cases, exactPx, surface, pull },
    codes: bytes(tile.codes),
    moves: bytes(tile.moves),
    weight: doubles(tile.weight),
    luminance: memory.float64(cases * pixels),
    dose: memory.float64(pixels * samplesAlong * samplesAcross),
    slack: memory.float64(pixels).fill(VISIT),
    rest: memory.float64(pixels),
    trial: {
      box: memory.int32(6),
      firstDose: memory.float64(along * samplesAlong),
      secondDose: memory.float64(along * samplesAlong),
      after: memory.float64(cases * boxLength),
      change: memory.float64(cases * boxLength),
      acting: memory.float64(boxLength),
      boxLength,
      eye: bothSides(model.eye, along, boxAcross, memory),
      shares: memory.float64(2 * samplesAcross),
      sums: memory.float64(2 * cases),
    },
    counts: memory.int32(2),
    gained: memory.float64(1),
  };
  return { ...state, fields: memory.simd ? fieldsOf(state, doubles) : new Int32Array(0) };
}

/** The eye's kernel as far as it reaches within a box. */
function bothSides(
  { seen, reachAlong }: SearchModel["eye"],
  along: number,
  across: number,
  memory: KernelMemory,
): Trial["eye"] {
  const columns = 2 * along - 1;
  const middle = along - 1;
  const both = memory.float64(across * columns);
  for (let y = 0; y < across; y++) {
    for (let x = 0; x < columns; x++) {
      both[y * columns + x] = seen[y * (reachAlong + 1) + Math.abs(x - middle)];
    }
  }
  return { seen: both, columns, middle };
}

/** The order of `src/simd/search-fields.ts`. */
function fieldsOf(
  state: Omit<SearchState, "fields">,
  place: (values: ArrayLike<number>) => Float64Array,
): Int32Array {
  const { model, trial } = state;
  const { evenLines, oddLines, across, eye } = model;
  const at = (array: { readonly byteOffset: number }): number => array.byteOffset;
  const lineFields = (line: LineMark): number[] => {
    const { bursts } = line;
    const burst = bursts
      ? [1, bursts.direction, bursts.shortens ? 1 : 0, bursts.wholePx, at(place(bursts.part))]
      : [0, 1, 0, 0, 0];
    return [line.before, line.after, at(place(line.dose)), ...burst];
  };
  const fields = [
    ...[state.columns, state.rows, state.firstRow, model.levels, state.cases],
    ...[model.samplesAlong, model.samplesAcross, model.steps, model.stepsPerDose],
    ...[across.before, across.after, state.exactPx, eye.reachAlong, eye.reachAcross, trial.boxLength],
    ...[state.codes, state.moves, state.weight, state.pull, state.luminance, state.dose].map(at),
    ...[state.surface, place(model.coupling), state.slack, state.rest].map(at),
    ...[eye.seen, eye.seenRight, eye.seenDown, across.dose].map(place).map(at),
    ...[trial.box, trial.firstDose, trial.secondDose, trial.after, trial.change, trial.acting].map(at),
    ...[trial.shares, trial.sums, state.counts, state.gained].map(at),
    ...[at(trial.eye.seen), trial.eye.columns, trial.eye.middle],
    ...lineFields(evenLines),
    ...lineFields(oddLines),
  ];
  const array = state.memory.int32(fields.length);
  array.set(fields);
  return array;
}

/** Pixels of the largest box that a change reaches: two neighbours on lines whose marks may lean opposite ways. */
export function largestBox({ evenLines, oddLines, across }: Omit<SearchModel, "eye">): {
  along: number;
  across: number;
} {
  const lines = [evenLines, oddLines];
  const left = Math.max(...lines.map((line) => line.before + burstReachTo(line, -1)));
  const right = Math.max(...lines.map((line) => line.after + burstReachTo(line, 1)));
  return { along: left + right + 2, across: widthOf(across) + 1 };
}

/** Pixels to each side that a change may touch. Pixels that may change lie so far inside their tile. */
export function changeReach({ evenLines, oddLines, across }: Omit<SearchModel, "eye">): {
  along: number;
  across: number;
} {
  const lines = [evenLines, oddLines].map((line) => Math.max(line.before, line.after) + burstReach(line));
  return { along: Math.max(...lines) + 1, across: Math.max(across.before, across.after) + 1 };
}

export const widthOf = ({ before, after }: MarkProfile): number => before + 1 + after;

/** Pixels beyond a change, to one side, whose bursts it may alter. */
export const burstReachTo = (line: LineMark, side: 1 | -1): number =>
  line.bursts?.direction === side ? burstReach(line) : 0;

export const burstReach = ({ bursts }: LineMark): number => (bursts ? reachOfBurst(bursts) : 0);

export const lineOf = ({ firstRow, model }: Pick<SearchState, "firstRow" | "model">, y: number): LineMark =>
  (firstRow + y) & 1 ? model.oddLines : model.evenLines;
