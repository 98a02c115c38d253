import { FRACTION_ONE, fractionCode, STAYS_BARE } from "../core/burn-fraction.js";
import { blurredRows } from "../core/gaussian-blur.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { CodeRows, PlaneRows } from "../core/plane-rows.js";
import { type Spot, spotSigmaPx } from "../core/spot.js";
import { lookUp, type Tabulated } from "../core/tabulated.js";
import {
  addRuns,
  balanceRow,
  burnCodes,
  burnPairs,
  spreadCells,
  textureBalance,
} from "./compensate-kernels.js";

/** From the photo's luminance, as 16-bit linear codes, to what is wanted of the surface and what burns it. */
export interface BurnTables {
  /** [65536] wanted luminance factor by luminance code. */
  readonly wantedByCode: Float32Array;
  /** Burn fraction 0..1 by wanted luminance factor. */
  readonly burnFor: Tabulated;
  /** The code that asks for the bare surface and nothing else, and that which asks for a solid fill. */
  readonly bareCode: number;
  readonly solidCode: number;
}

export interface GridShape {
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch;
  readonly spot: Spot;
  /** Whether a row's last pixel and its first are neighbours. */
  readonly closed?: boolean;
}

/** Writes the burn fractions of row y, as integer codes, to `out` [columns]. Rows are asked for in rising order. */
export type FractionRows = (y: number, out: Int16Array) => void;

/** [65536] Burn fractions by luminance code, as integer codes, for each pixel by itself. */
export function plainTable({ wantedByCode, burnFor, bareCode }: BurnTables): Int16Array {
  const table = Int16Array.from(wantedByCode, (wanted) => fractionCode(lookUp(burnFor, wanted)));
  table[bareCode] = STAYS_BARE;
  return table;
}

/** Burn fractions pixel by pixel: for a tone curve that is a straight line, or without balance. */
export function plainRows(
  memory: KernelMemory,
  tables: BurnTables,
  columns: number,
  codes: CodeRows,
): FractionRows {
  const table = memory.int16(tables.wantedByCode.length);
  table.set(plainTable(tables));
  return (y, out) => burnCodes(memory, codes(y), table, columns, out);
}

/**
 * Burn fractions that make the wanted luminance factors: the inverse tone curve at every pixel, then balanced for texture.
 *
 * The balance is ours. The tone curve is right for flat tints. In texture finer than the spot, the spot averages *dose*,
 * while the eye would have averaged *light*; the curve between the two is bent, so fine texture comes out too dark, or on
 * a steep material too light (by 0.1 to 0.3 L* on photographs at overdrive 4.6, and then it is most of the visual error).
 * Asking that the blurred fractions be those of the blurred target, B·f = f(B·T), and keeping the pixel's own detail,
 * gives f + f(B·T) − B·f.
 *
 * What the balance adds is as smooth as the spot, so it is worked out on cells of up to half a spot and spread linearly.
 *
 * What should stay bare stays bare, and solid solid: no stray dots round a cut-out, no frayed edges of a dark shape.
 *
 * @param codes linear luminance, row by row, in `memory`
 */
export function compensatedRows(
  memory: KernelMemory,
  tables: BurnTables,
  { columns, rows, pitch, spot, closed = false }: GridShape,
  codes: CodeRows,
): FractionRows {
  const { wantedByCode, burnFor, bareCode, solidCode } = tables;
  const [sigmaAlongPx, sigmaAcrossPx] = spotSigmaPx(spot, pitch);
  const run = closed ? closingCellPx(sigmaAlongPx, columns) : cellPx(sigmaAlongPx);
  const lines = cellPx(sigmaAcrossPx);
  const cells = Math.ceil(columns / run);
  const cellRows = Math.ceil(rows / lines);

  const table = memory.float32(2 * wantedByCode.length);
  for (let code = 0; code < wantedByCode.length; code++) {
    table[2 * code] = wantedByCode[code];
    table[2 * code + 1] = lookUp(burnFor, wantedByCode[code]) * FRACTION_ONE;
  }
  const burnCodesFor = { ...burnFor, values: memory.float32(burnFor.values.length) };
  burnFor.values.forEach((fraction, i) => {
    burnCodesFor.values[i] = fraction * FRACTION_ONE;
  });

  const pairs = memory.float32(2 * cells * run);
  const lookAhead = (Math.ceil(4 * (sigmaAcrossPx / lines)) + 3) * lines;
  const own = Array.from({ length: lookAhead + lines }, () => memory.float32(columns));
  let loaded = -1;
  const load = (y: number): void => {
    if (y === loaded) return;
    burnPairs(memory, codes(y), table, bareCode, solidCode, columns, pairs, own[y % own.length]);
    for (let i = 2 * columns; i < pairs.length; i++) pairs[i] = pairs[i - 2];
    loaded = y;
  };

  const sums = memory.float32(2 * cells);
  const cellRow: PlaneRows = (j) => {
    if (run === 1 && lines === 1) {
      load(j);
      return pairs;
    }
    sums.fill(0);
    for (let k = 0; k < lines; k++) {
      load(Math.min(rows - 1, j * lines + k));
      addRuns(memory, pairs, run, cells, sums);
    }
    return sums;
  };
  const blurred = blurredRows(
    memory,
    {
      columns: cells,
      rows: cellRows,
      sigmaAlongPx: sigmaAlongPx / run,
      sigmaAcrossPx: sigmaAcrossPx / lines,
      valuesPerPixel: 2,
      gain: 1 / (run * lines),
      closed,
    },
    cellRow,
  );

  const balance = [0, 1].map(() => ({ row: memory.float32(cells * run), of: -1 }));
  const edged = memory.float32(cells + 2);
  const share = memory.float32(run);
  for (let p = 0; p < run; p++) share[p] = ((p + 0.5) / run - 0.5 + 1) % 1;
  const early = run >> 1;
  const balanceAt = (j: number): Float32Array => {
    const slot = balance[j % 2];
    if (slot.of !== j) {
      if (run === 1) textureBalance(memory, blurred(j), burnCodesFor, cells, slot.row, 0);
      else {
        textureBalance(memory, blurred(j), burnCodesFor, cells, edged, 1);
        edged[0] = edged[closed ? cells : 1];
        edged[cells + 1] = edged[closed ? 1 : cells];
        spreadCells(memory, edged, share, early, cells, slot.row);
      }
      slot.of = j;
    }
    return slot.row;
  };

  return (y, out) => {
    const at = (y + 0.5) / lines - 0.5;
    const upper = Math.max(0, Math.floor(at));
    const lower = Math.min(cellRows - 1, Math.floor(at) + 1);
    const weight = at - Math.floor(at);
    const from = balanceAt(upper);
    balanceRow(memory, own[y % own.length], from, balanceAt(lower), weight, columns, out);
  };
}

/** Side of a cell, in pixels: as many as half a spot (two standard deviations) holds, at least one. */
const cellPx = (sigmaPx: number): number => Math.max(1, Math.floor(2 * sigmaPx));

/** The largest no larger that goes round a closed row a whole number of times. */
function closingCellPx(sigmaPx: number, columns: number): number {
  let side = cellPx(sigmaPx);
  while (columns % side !== 0) side--;
  return side;
}

/**
 * Burn fractions without compensation, as if marks were as large as their pixels and added no dose to their neighbours: the
 * wanted luminance factor's place between bare and solid (Murray, J. Franklin Inst. 221, 721 (1936)).
 */
export function uncompensatedBurn(bare: number, solid: number): (luminanceFactor: number) => number {
  const range = solid - bare;
  return (luminanceFactor) => (range === 0 ? 0 : Math.min(1, Math.max(0, (luminanceFactor - bare) / range)));
}
