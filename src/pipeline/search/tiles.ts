import type { PieceGrid } from "./piece-planes.js";
import { CORE_PX, type TileRequest } from "./tile-work.js";

/** Each pass lays its tiles elsewhere, so that what was the side of a tile comes into the middle of another. */
const SHIFT_SHARE = 0.382;

/** A longer side has two tiles, so that two threads have something to do. */
const WORTH_TWO_PX = 256;

type Tile = Pick<TileRequest, "core" | "still">;

/** The tiles of a pass: they cover the piece, each pixel once. @param reach of a change */
export function tilesOf(
  pass: number,
  { columns, rows, closed }: PieceGrid,
  reach: { readonly along: number; readonly across: number },
): Tile[] {
  const across = spans(pass, rows, false);
  const along = spans(pass, columns, closed);
  return across.flatMap((vertical) =>
    along.map((horizontal) => ({
      core: { left: horizontal.from, top: vertical.from, columns: horizontal.length, rows: vertical.length },
      still: {
        left: horizontal.meetsBefore ? reach.along : 0,
        right: horizontal.meetsAfter ? reach.along : 0,
        top: vertical.meetsBefore ? reach.across : 0,
        bottom: vertical.meetsAfter ? reach.across : 0,
      },
    })),
  );
}

interface Span {
  readonly from: number;
  readonly length: number;
  /** Whether another tile begins there. */
  readonly meetsBefore: boolean;
  readonly meetsAfter: boolean;
}

function spans(pass: number, length: number, closed: boolean): Span[] {
  const count = Math.max(Math.ceil(length / CORE_PX), length > WORTH_TWO_PX ? 2 : 1);
  if (count === 1 && !closed) return [{ from: 0, length, meetsBefore: false, meetsAfter: false }];
  const side = Math.ceil(length / count);
  const shift = Math.floor(pass * SHIFT_SHARE * side) % side;
  const starts = Array.from({ length: count + 1 }, (_, k) => Math.min(length, k * side));
  if (closed) {
    return starts.slice(0, -1).map((start, k) => ({
      ...{ from: start - shift, length: starts[k + 1] - start, meetsBefore: true, meetsAfter: true },
    }));
  }
  const edges = [0, ...starts.slice(0, -1).map((start) => start + shift), length];
  const cuts = [...new Set(edges)].filter((at) => at <= length).sort((a, b) => a - b);
  return cuts.slice(0, -1).map((from, k) => ({
    ...{ from, length: cuts[k + 1] - from },
    meetsBefore: from > 0,
    meetsAfter: cuts[k + 1] < length,
  }));
}
