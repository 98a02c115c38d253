import { FRACTION_ONE, fractionCode, STAYS_BARE } from "../core/burn-fraction.js";
import { blurredRows } from "../core/gaussian-blur.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { CodeRows, PlaneRows } from "../core/plane-rows.js";
import { type EngravingGrid, spotSigmaPx } from "../core/spot.js";
import { lookUp, type Tabulated } from "../core/tabulated.js";
import {
  addRuns,
  type BalancedCells,
  balanceRow,
  burnCodes,
  burnPairs,
  type CellSpread,
  type PairTable,
  type RowBalance,
  spreadCells,
  textureBalance,
} from "./compensate-kernels.js";

/** Tables from the luminance of the photo (16-bit linear codes) to wanted luminance factors and burn fractions. */
export interface BurnTables {
  /** [65536] wanted luminance factor by luminance code. */
  readonly wantedByCode: Float32Array;
  /** Burn fraction 0..1 by wanted luminance factor. */
  readonly burnFor: Tabulated;
  /** The code of the bare surface, and the code of a solid fill. */
  readonly bareCode: number;
  readonly solidCode: number;
}

/** Writes the burn fractions of row y, as integer codes, to `out` [columns]. Rows come in rising order. */
export type FractionRows = (y: number, out: Int16Array) => void;

/** [65536] Burn fractions by luminance code, as integer codes, without balance. */
export function plainTable({ wantedByCode, burnFor, bareCode }: BurnTables): Int16Array {
  const table = Int16Array.from(wantedByCode, (wanted) => fractionCode(lookUp(burnFor, wanted)));
  table[bareCode] = STAYS_BARE;
  return table;
}

/**
 * Burn fractions pixel by pixel, without balance. A straight tone curve needs none.
 *
 * @param codes linear luminance [columns], row by row
 * @param memory that `codes` and the output rows are in. Default: any arrays, and plain loops
 */
export function plainRows(
  tables: BurnTables,
  columns: number,
  codes: CodeRows,
  memory: KernelMemory = createKernelMemory("plain"),
): FractionRows {
  const table = memory.int16(tables.wantedByCode.length);
  table.set(plainTable(tables));
  return (y, out) => burnCodes(memory, codes(y), table, columns, out);
}

/**
 * Burn fractions that make the wanted luminance factors: the inverse tone curve at every pixel, then balanced for texture.
 *
 * The balance is ours. The tone curve is right for flat tints. In texture finer than the spot, the spot averages *dose*, but the
 * eye averages *light*. The curve between the two is not straight, so fine texture burns too dark, or on a steep material too
 * light: by 0.1 to 0.3 L* on photographs at overdrive 4.6, most of the visual error there. The condition: blurred fractions equal
 * those of the blurred target, B·f = f(B·T). With the detail of each pixel kept, this gives f + f(B·T) − B·f.
 *
 * The balance is as smooth as the spot, so it is computed on cells of up to half a spot and interpolated linearly.
 *
 * Bare pixels stay bare and solid pixels stay solid: no stray dots around a cut-out, no frayed edges on a dark shape.
 *
 * @param codes linear luminance [columns], row by row
 * @param memory that `codes` and the output rows are in. Default: any arrays, and plain loops
 */
export function compensatedRows(
  tables: BurnTables,
  grid: EngravingGrid,
  codes: CodeRows,
  memory: KernelMemory = createKernelMemory("plain"),
): FractionRows {
  const cells = cellGrid(grid);
  const pixels = new PixelPairs(memory, tables, cells, codes);
  const balanceAt = balanceRows(memory, tables, cells, pixels);
  const balance: RowBalance = { upper: new Float32Array(0), lower: new Float32Array(0), weight: 0 };
  return (y, out) => {
    const at = (y + 0.5) / cells.lines - 0.5;
    const upper = Math.floor(at);
    balance.weight = at - upper;
    balance.upper = balanceAt(Math.max(0, upper));
    balance.lower = balanceAt(Math.min(cells.rows - 1, upper + 1));
    balanceRow(memory, pixels.own(y), balance, out);
  };
}

/** The cells of the balance, `run` × `lines` pixels each. */
interface CellGrid {
  readonly grid: EngravingGrid;
  readonly run: number;
  readonly lines: number;
  readonly columns: number;
  readonly rows: number;
  /** The spot, in cells. */
  readonly sigmaAlong: number;
  readonly sigmaAcross: number;
  readonly closed: boolean;
}

function cellGrid(grid: EngravingGrid): CellGrid {
  const { columns, rows, pitch, spot, closed = false } = grid;
  const [sigmaAlongPx, sigmaAcrossPx] = spotSigmaPx(spot, pitch);
  const run = closed ? closingCellPx(sigmaAlongPx, columns) : cellPx(sigmaAlongPx);
  const lines = cellPx(sigmaAcrossPx);
  const [sigmaAlong, sigmaAcross] = [sigmaAlongPx / run, sigmaAcrossPx / lines];
  const [cellColumns, cellRows] = [Math.ceil(columns / run), Math.ceil(rows / lines)];
  return { grid, run, lines, columns: cellColumns, rows: cellRows, sigmaAlong, sigmaAcross, closed };
}

/** Wanted luminance factors and burn fractions, row by row, summed in cells. Rows are held until the balance needs them. */
class PixelPairs {
  private readonly table: PairTable;
  private readonly pairs: Float32Array;
  private readonly ownRows: readonly Float32Array[];
  private readonly sums: Float32Array;
  private loaded = -1;

  constructor(
    private readonly memory: KernelMemory,
    { wantedByCode, burnFor, bareCode, solidCode }: BurnTables,
    private readonly cells: CellGrid,
    private readonly codes: CodeRows,
  ) {
    const table = memory.float32(2 * wantedByCode.length);
    for (let code = 0; code < wantedByCode.length; code++) {
      table[2 * code] = wantedByCode[code];
      table[2 * code + 1] = lookUp(burnFor, wantedByCode[code]) * FRACTION_ONE;
    }
    this.table = { simd: memory.simd, table, bareCode, solidCode };
    this.pairs = memory.float32(2 * cells.columns * cells.run);
    const lookAhead = (Math.ceil(4 * cells.sigmaAcross) + 3) * cells.lines;
    this.ownRows = Array.from({ length: lookAhead + cells.lines }, () => memory.float32(cells.grid.columns));
    this.sums = memory.float32(2 * cells.columns);
  }

  /** Burn fractions of row y, without balance. */
  own(y: number): Float32Array {
    return this.ownRows[y % this.ownRows.length];
  }

  /** Sums of row j of cells, [cells × 2]. */
  cellRow(j: number): Float32Array {
    const { run, lines, grid } = this.cells;
    if (run === 1 && lines === 1) {
      this.load(j);
      return this.pairs;
    }
    this.sums.fill(0);
    for (let k = 0; k < lines; k++) {
      this.load(Math.min(grid.rows - 1, j * lines + k));
      addRuns(this.memory, this.pairs, run, this.sums);
    }
    return this.sums;
  }

  private load(y: number): void {
    if (y === this.loaded) return;
    const { pairs } = this;
    burnPairs(this.table, this.codes(y), pairs, this.own(y));
    for (let i = 2 * this.cells.grid.columns; i < pairs.length; i++) pairs[i] = pairs[i - 2];
    this.loaded = y;
  }
}

/** The balance of row j of cells at full width. It holds two rows. */
function balanceRows(
  memory: KernelMemory,
  { burnFor }: BurnTables,
  cells: CellGrid,
  pixels: PixelPairs,
): PlaneRows {
  const { run, lines, columns, closed } = cells;
  const blurred = blurredRows(
    memory,
    {
      columns,
      rows: cells.rows,
      sigmaAlongPx: cells.sigmaAlong,
      sigmaAcrossPx: cells.sigmaAcross,
      valuesPerPixel: 2,
      gain: 1 / (run * lines),
      closed,
    },
    (j) => pixels.cellRow(j),
  );
  const values = memory.float32(burnFor.values.length);
  burnFor.values.forEach((fraction, i) => {
    values[i] = fraction * FRACTION_ONE;
  });
  const { simd } = memory;
  const balanced: BalancedCells = { simd, cells: columns, burnFor: { ...burnFor, values } };
  const slots = [0, 1].map(() => ({ row: memory.float32(columns * run), of: -1 }));
  const edged = memory.float32(columns + 2);
  const share = memory.float32(run);
  for (let p = 0; p < run; p++) share[p] = ((p + 0.5) / run - 0.5 + 1) % 1;
  const spread: CellSpread = { simd, cells: columns, share, early: run >> 1 };

  return (j) => {
    const slot = slots[j % 2];
    if (slot.of === j) return slot.row;
    slot.of = j;
    if (run === 1) {
      textureBalance(balanced, blurred(j), slot.row, 0);
      return slot.row;
    }
    textureBalance(balanced, blurred(j), edged, 1);
    edged[0] = edged[closed ? columns : 1];
    edged[columns + 1] = edged[closed ? 1 : columns];
    spreadCells(spread, edged, slot.row);
    return slot.row;
  };
}

/** Side of a cell in whole pixels: up to half a spot (two standard deviations), at least one. */
const cellPx = (sigmaPx: number): number => Math.max(1, Math.floor(2 * sigmaPx));

/** The largest such side that divides a closed row evenly. */
function closingCellPx(sigmaPx: number, columns: number): number {
  let side = cellPx(sigmaPx);
  while (columns % side !== 0) side--;
  return side;
}

/**
 * Burn fractions without compensation, as if marks were as large as their pixels and added no dose to their neighbours: the
 * place of the wanted luminance factor between bare and solid (Murray, J. Franklin Inst. 221, 721 (1936)).
 *
 * @param bare, solid luminance factors 0..1
 * @returns burn fraction 0..1 by luminance factor
 */
export function uncompensatedBurn(bare: number, solid: number): (luminanceFactor: number) => number {
  const range = solid - bare;
  return (luminanceFactor) => (range === 0 ? 0 : Math.min(1, Math.max(0, (luminanceFactor - bare) / range)));
}
