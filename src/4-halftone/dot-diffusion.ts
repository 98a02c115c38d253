import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { bandHalftone } from "./band.js";
import type { ClassMatrix } from "./class-matrices.js";
import { joinDots, settleDots, splitDots } from "./dot-loops.js";
import { type DotCell, planDots } from "./dot-plan.js";
import type { BandHalftone, BandSize, HalftoneSettings } from "./method.js";
import { isRing } from "./ring.js";

/** Numbers to spare on either side of a phase, for error that leaves the picture and for vectors that run over. */
const SPARE = 4;

/**
 * Dot diffusion: pixels are decided in the order of a class matrix that tiles the plane, and each hands its error to those
 * of its eight neighbours that come later. A pixel with no later neighbour drops its error, and so does one at the edge of the
 * picture with what its neighbours outside would get.
 * D. E. Knuth, "Digital halftones by dot diffusion", ACM Trans. Graphics 6(4) (1987), 245–273.
 *
 * Tiles go round a ring a whole number of times, and there is no side to drop error at.
 *
 * As rows come in, each class is decided as far down as all that its pixels wait for is known; that gives the bits of the
 * whole plane at once, some rows late.
 */
export function startDotDiffusion(
  classes: ClassMatrix,
  size: BandSize,
  settings: HalftoneSettings,
  memory: KernelMemory,
): BandHalftone {
  const ring = isRing(size, settings);
  const { columns, rows, bandRows } = size;
  const side = classes.length;
  const cells = planDots(classes);
  const delayRows = Math.max(...cells.map(({ lagRows }) => lagRows));
  const tiles = Math.ceil(columns / side);
  const bytes = bytesPerPackedRow(columns);

  // Rows in a ring, each taken apart by column of the class matrix: pixels of one class are neighbours then.
  const phaseStride = SPARE + 4 * Math.ceil(tiles / 4) + SPARE;
  const ringRows = bandRows + delayRows + 3;
  const wanted = memory.int32(ringRows * side * phaseStride);
  /** A word for each tile of a row, its leftmost pixel in the highest of `side` bits. */
  const wordStride = 4 * Math.ceil(tiles / 4);
  const burned = memory.int32(ringRows * wordStride);
  const bare = memory.int32(ringRows * wordStride);
  const ringRow = (y: number) => (y + ringRows) % ringRows;
  const phaseAt = (y: number, phase: number) => (ringRow(y) * side + phase) * phaseStride + SPARE;
  const wordsAt = (y: number) => ringRow(y) * wordStride;

  const targets = memory.int32(8);
  const weights = cells.map(({ later }) => {
    const values = memory.int32(8);
    values.set(later.map(({ weight }) => weight));
    return values;
  });
  /** The next row of each class to decide. */
  const nextRows = Int32Array.from(cells, ({ y }) => y);

  function settle({ x, later }: DotCell, weightsOfCell: Int32Array, y: number): void {
    later.forEach(({ dx, dy }, k) => {
      const column = x + dx + side;
      targets[k] = phaseAt(y + dy, column % side) + Math.floor(column / side) - 1;
    });
    const pixels = Math.ceil((columns - x) / side);
    const bit = 1 << (side - 1 - x);
    settleDots(
      memory,
      wanted,
      phaseAt(y, x),
      pixels,
      burned,
      wordsAt(y),
      bit,
      targets,
      weightsOfCell,
      later.length,
    );
    if (!ring) return;
    // What went beyond an end of a phase belongs to its other end.
    later.forEach(({ dx, dy }) => {
      const first = phaseAt(y + dy, (x + dx + side) % side);
      wanted[first + tiles - 1] += wanted[first - 1];
      wanted[first] += wanted[first + tiles];
      wanted[first - 1] = 0;
      wanted[first + tiles] = 0;
    });
  }

  return bandHalftone(
    size,
    memory,
    {
      run: (fractions, packed, y, count) => {
        const known = Math.min(rows, y + count);
        for (let row = y; row < known; row++) {
          burned.fill(0, wordsAt(row), wordsAt(row) + wordStride);
          splitDots(
            memory,
            fractions,
            (row - y) * columns,
            columns,
            side,
            wanted,
            phaseAt(row, 0),
            phaseStride,
            bare,
            wordsAt(row),
          );
        }
        cells.forEach((cell, k) => {
          const end = Math.min(rows, y + count - cell.lagRows);
          for (; nextRows[k] < end; nextRows[k] += side) settle(cell, weights[k], nextRows[k]);
        });
        for (let row = Math.max(0, y - delayRows); row < Math.min(rows, y + count - delayRows); row++) {
          const to = (row - y + delayRows) * bytes;
          joinDots(memory, burned, bare, wordsAt(row), tiles, side, packed, to);
        }
      },
      restart: () => {
        cells.forEach((cell, k) => {
          nextRows[k] = cell.y;
        });
      },
    },
    delayRows,
  );
}
