import { MOVES, type SearchModel } from "../../4-search/search-model.js";
import { changeReach, NONE } from "../../4-search/search-state.js";
import { TileSearch } from "../../4-search/tile-search.js";

/** Distances of a wanted luminance factor from bare surface and from solid fill below which a search must not clear marks away. */
export interface LoneMarks {
  readonly fromBare: number;
  readonly fromSolid: number;
}

/**
 * A lone dot on bare surface puts all of its error in one place. It pays in J only if the tint asks for more than half of
 * Σ d·eye·d / Σ d, with d the change of the luminance factors by the dot. Paler tints would be cleared to nothing, though every
 * dot of them is wanted. The same holds for a lone hole in a solid fill. Below twice that limit dots only change places.
 *
 * Source of the limit: Σ d·(2·error + eye·d) < 0 for a tint of even error, as the eye's filter keeps a mean.
 */
export function loneMarks(model: SearchModel): LoneMarks {
  const nominal = (model.surface.length - 1) / 2;
  const single = { ...model, surface: [model.surface[nominal]], coupling: Float64Array.of(1) };
  return {
    fromBare: limitOf(single, 0, 1),
    fromSolid: limitOf(single, model.levels - 1, -1),
  };
}

/** @param level of all pixels around @param step of the lone pixel */
function limitOf(model: SearchModel, level: number, step: number): number {
  const reach = changeReach(model);
  const columns = 4 * reach.along + 1;
  const rows = 4 * reach.across + 1;
  const pixels = columns * rows;
  const [x, y] = [2 * reach.along, 2 * reach.across];
  const moves = new Uint8Array(pixels);
  moves[y * columns + x] = MOVES;
  const search = new TileSearch(
    model,
    {
      ...{ columns, rows, firstRow: 0, moves },
      codes: new Uint8Array(pixels).fill(level),
      weight: new Float64Array(pixels).fill(1),
      pull: [new Float64Array(pixels)],
    },
    0,
  );
  const change = { x, y, step, otherX: NONE, otherY: NONE };
  const before = Float64Array.from(search.luminance);
  const energy = search.gain(Number.POSITIVE_INFINITY, change);
  search.accept(change);
  const mass = search.luminance.reduce((sum, value, at) => sum + value - before[at], 0);
  return mass === 0 ? 0 : energy / Math.abs(mass);
}
