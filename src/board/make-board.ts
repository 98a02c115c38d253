import { type RunTime, RunTimer, runTime } from "../5-burn/run-time.js";
import { encodePackedBitmap } from "../6-report/files/bitmap-file.js";
import { type BitmapWriter, createPngWriter } from "../6-report/files/bitmap-png.js";
import type { ByteSink } from "../6-report/files/deflate.js";
import { encodePreviewPng } from "../6-report/files/preview-png.js";
import type { PackedBitmap } from "../core/packed-bits.js";
import type { BoardTime } from "./board-json.js";
import type { BoardLayout, BoardPiece, PieceFile } from "./board-piece.js";
import { boardPreview } from "./board-preview.js";
import { boardRows } from "./board-rows.js";
import { readBitmap } from "./read-bitmap.js";

/** Where a board comes from and goes to. */
export interface BoardFiles {
  /** The content of a piece's file. Throws if it is not the file that was written. */
  readonly read: (file: PieceFile) => Promise<Uint8Array>;
  readonly burn: ByteSink;
  /** Called only if every piece has a preview. */
  readonly preview: ByteSink;
}

/** Rows that are written at a time. */
const BAND_ROWS = 64;

/** Write the bitmap of a board and its preview. The bitmaps of its pieces are in memory packed, each once. */
export async function makeBoard(layout: BoardLayout, files: BoardFiles): Promise<BoardTime> {
  const pieces = [...new Set(layout.places.map(({ piece }) => piece))];
  const bitmaps = new Map<BoardPiece, PackedBitmap>();
  for (const piece of pieces) bitmaps.set(piece, await bitmapOf(piece, files));
  const whole = await writeBitmap(layout, (piece) => known(bitmaps, piece), files.burn);
  const { head, pitch } = layout.setting;
  const alone = new Map<BoardPiece, number>();
  for (const [piece, bitmap] of bitmaps) alone.set(piece, runTime(bitmap, pitch.alongMm, head).seconds);
  if (pieces.every(({ preview }) => preview)) {
    const previewOf = async ({ preview }: BoardPiece) => (preview ? files.read(preview) : new Uint8Array(0));
    await files.preview(await encodePreviewPng(await boardPreview(layout, previewOf)));
  }
  const pieceByPieceS = layout.places.reduce((sum, { piece }) => sum + known(alone, piece), 0);
  return { whole, pieceByPieceS };
}

async function bitmapOf({ bitmap, columns, rows, setting }: BoardPiece, { read }: BoardFiles) {
  const { format, levels } = setting;
  return readBitmap(await read(bitmap), format, { columns, rows, levels });
}

function known<Of>(all: ReadonlyMap<BoardPiece, Of>, piece: BoardPiece): Of {
  const found = all.get(piece);
  if (found === undefined) throw new Error("A place on a board names another piece.");
  return found;
}

async function writeBitmap(
  layout: BoardLayout,
  bitmapOf: (piece: BoardPiece) => PackedBitmap,
  sink: ByteSink,
): Promise<RunTime> {
  const { columns, rows, setting } = layout;
  const { levels, pitch, head } = setting;
  const source = boardRows(layout, bitmapOf);
  const timer = new RunTimer(columns, pitch.alongMm, head, levels);
  const writer = await writerOf(layout, source.stride, sink);
  const band = new Uint8Array(BAND_ROWS * source.stride);
  for (let from = 0; from < rows; from += BAND_ROWS) {
    const count = Math.min(BAND_ROWS, rows - from);
    for (let y = 0; y < count; y++) {
      source.fill(from + y, band.subarray(y * source.stride, (y + 1) * source.stride));
    }
    timer.add(band, count);
    await writer.write(band, count);
  }
  await writer.end();
  return timer.runTime();
}

/** A PNG is written while its rows are made. The other formats take the whole bitmap, packed. */
async function writerOf(
  { columns, rows, setting }: BoardLayout,
  stride: number,
  sink: ByteSink,
): Promise<BitmapWriter> {
  const { levels, pitch, format } = setting;
  if (format === "png") return createPngWriter({ columns, rows, levels, pitch }, "repeating", sink);
  const bytes = new Uint8Array(rows * stride);
  let filled = 0;
  return {
    async write(packed, count) {
      bytes.set(packed.subarray(0, count * stride), filled);
      filled += count * stride;
    },
    async end() {
      await sink(await encodePackedBitmap({ columns, rows, levels, stride, bytes }, pitch, format));
    },
  };
}
