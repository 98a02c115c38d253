import { refusal } from "../core/refusals/refusals.js";
import { checkSlant, type Diameters, isCone, type Placing, type Wrap } from "../core/wrap.js";
import type { CheckedOptions } from "./resolved-options.js";

type RoundOptions = Pick<CheckedOptions, "aroundMm" | "coneLayout" | "place" | "wallMm">;
type PieceOptions = Pick<CheckedOptions, "widthMm" | "heightMm" | "oval" | "focus">;

/**
 * The round piece of a job; undefined if it is flat. A width or a place makes the picture a placed one, which does not go all the
 * way round. Throws `OPTION_CONFLICT` for options that do not go together.
 */
export function resolveWrap(round: RoundOptions, piece: PieceOptions): Wrap | undefined {
  const { aroundMm, coneLayout: layout, place, wallMm } = round;
  if (aroundMm === undefined) {
    if (place) throw refusal("round-only", { option: "place" }, { received: place });
    if (wallMm !== undefined) throw refusal("round-only", { option: "wallMm" }, { received: wallMm });
    return undefined;
  }
  const ends = typeof aroundMm === "number" ? { topMm: aroundMm, bottomMm: aroundMm } : aroundMm;
  if (piece.widthMm === undefined && !place) {
    if (wallMm !== undefined) throw refusal("wall-all-round", {}, { received: wallMm });
    return ringOf(Object.freeze({ ...ends, layout }), piece);
  }
  const placing = placingOf(ends, place, wallMm);
  const wrap = Object.freeze({ ...ends, layout, placing });
  const slantMm = wallMm ?? piece.heightMm;
  if (slantMm !== undefined && isCone(ends)) checkSlant(wrap, slantMm);
  return wrap;
}

/** Throws `OPTION_CONFLICT` for options of pieces with sides, and for a height that makes no cone. */
function ringOf(wrap: Wrap, { heightMm, oval, focus }: PieceOptions): Wrap {
  if (oval) throw refusal("oval-on-round", {}, { received: oval });
  if (!isCone(wrap)) return wrap;
  if (focus && wrap.layout === "flat") throw refusal("focus-on-flat-cone", {}, { received: focus });
  if (heightMm !== undefined) checkSlant(wrap, heightMm);
  return wrap;
}

/**
 * Throws `OPTION_CONFLICT` for a distance from the rim of a cone whose wall is not known: the diameters are then those of the
 * picture, and the user may have meant those of the piece.
 */
function placingOf(
  ends: Diameters,
  { fromRimMm, angleDeg = 0 }: NonNullable<RoundOptions["place"]> = {},
  wallMm: number | undefined,
): Placing {
  if (fromRimMm !== undefined && wallMm === undefined && isCone(ends)) {
    throw refusal("cone-without-wall", { ...ends }, { received: fromRimMm });
  }
  return Object.freeze({ fromRimMm, angleDeg: ((angleDeg % 360) + 360) % 360, wallMm });
}
