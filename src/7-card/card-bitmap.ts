import { bytesPerRow, type PackedBitmap, packRow } from "../core/packed-bits.js";
import type { PatternTile } from "../core/pattern-tile.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { CardLayout } from "./layout.js";
import { bareInside, cornersOf, frameOf } from "./marks.js";
import { patternTile } from "./patterns.js";

/** An area and what fills it, from its upper left corner. */
interface Filled {
  readonly area: PixelRectangle;
  readonly tile: PatternTile;
}

/** The part of a layout that is drawn with whole patterns. */
type Drawn = Omit<CardLayout, "patterns">;

/** Draw a card. A row is put together at a time, so memory holds the packed bitmap alone. */
export function cardBitmap(layout: Drawn): PackedBitmap {
  const { columns, rows } = layout.grid;
  const { levels } = layout.spec;
  const stride = bytesPerRow(columns, levels);
  const bytes = new Uint8Array(rows * stride);
  const parts = filledParts(layout);
  const line = new Uint8Array(columns);
  for (let y = 0; y < rows; y++) {
    line.fill(0);
    for (const part of parts) drawRow(part, y, line);
    if (levels === 2) packRow(line, 0, columns, bytes, y * stride);
    else bytes.set(line, y * stride);
  }
  return { columns, rows, levels, stride, bytes };
}

/** Everything on a card, in the order in which it is drawn: what is bare inside a corner comes after the corner. */
function filledParts(layout: Drawn): Filled[] {
  const { grid, spec, patches } = layout;
  const { levels } = spec;
  const tiles = new Map(layout.patches.map(({ pattern }) => [pattern, patternTile(pattern, levels)]));
  const solid = patternTile({ kind: "solid" }, levels);
  const bare = patternTile({ kind: "bare" }, levels);
  const corners = cornersOf(grid);
  return [
    ...frameOf(grid).map((area) => ({ area, tile: solid })),
    ...corners.map(({ area }) => ({ area, tile: solid })),
    ...corners.flatMap((corner) => bareInside(corner, grid) ?? []).map((area) => ({ area, tile: bare })),
    { area: layout.codeArea, tile: codeTile(layout) },
    ...patches.map(({ area, pattern }) => ({ area, tile: tiles.get(pattern) ?? bare })),
  ];
}

/** The code as one tile, enlarged to its pixels. */
function codeTile({ code, codeArea, spec }: Drawn): PatternTile {
  const { columns, rows } = codeArea;
  const [across, down] = [columns / code.side, rows / code.side];
  const codes = Uint8Array.from({ length: columns * rows }, (_, i) => {
    const column = Math.floor((i % columns) / across);
    const row = Math.floor(Math.floor(i / columns) / down);
    return code.modules[row * code.side + column] * (spec.levels - 1);
  });
  return { columns, rows, codes };
}

function drawRow({ area, tile }: Filled, y: number, line: Uint8Array): void {
  const inside = y - area.top;
  if (inside < 0 || inside >= area.rows) return;
  const from = (inside % tile.rows) * tile.columns;
  for (let x = 0; x < area.columns; x++) line[area.left + x] = tile.codes[from + (x % tile.columns)];
}
