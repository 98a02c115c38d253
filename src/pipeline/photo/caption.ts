import type { Frame } from "../../3-resample/frame.js";
import { fillRow } from "../../4-artwork/fill-polygons.js";
import { textLines } from "../../4-artwork/text-lines.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";

/*
 * In heights of a capital letter: bare between picture and text, from one baseline to the next, and below the last one, where some
 * letters reach.
 */
const GAP = 1;
const LINE_STEP = 1.75;
const BELOW = 0.4;

type Captioned = Pick<ResolvedOptions, "text" | "textHeightMm" | "pitch" | "wrap" | "mirror">;

/** The frame with room for the text below the picture. Throws `OPTION_CONFLICT` for a text on a round piece. */
export function withCaption(frame: Frame, options: Captioned): Frame {
  if (options.text === undefined) return frame;
  if (options.wrap) throw refusal("text-on-round-piece", {});
  const { heights } = linesOf(options.text, frame, options);
  const rows = frame.rows + Math.ceil((heights * options.textHeightMm) / options.pitch.acrossMm);
  return { ...frame, rows, heightMm: rows * options.pitch.acrossMm };
}

/** The text below a picture. */
export interface Caption {
  /** Its first row in the bitmap. Everything from there on is text or bare. */
  readonly top: number;
  /** `BORDER` in pixels of letters, 0 elsewhere; mirrored like the bitmap. */
  readonly row: EdgeRows;
}

/** The text in a frame with room for it; undefined without a text. */
export function captionOf(frame: Frame, options: Captioned): Caption | undefined {
  const { text, textHeightMm, pitch, mirror } = options;
  if (text === undefined) return undefined;
  const { lines, heights } = linesOf(text, frame, options);
  const top = frame.rows - Math.ceil((heights * textHeightMm) / pitch.acrossMm);
  const out = new Float32Array(frame.columns);
  return {
    top,
    row(y) {
      out.fill(0);
      const yMm = (y - top + 0.5) * pitch.acrossMm;
      for (const [i, { polygons, widthMm }] of lines.entries()) {
        const baselineMm = (GAP + 1 + i * LINE_STEP) * textHeightMm;
        const leftMm = (frame.widthMm - widthMm) / 2;
        fillRow(polygons, [leftMm, yMm - baselineMm], pitch, out, BORDER);
      }
      return mirror ? out.reverse() : out;
    },
  };
}

function linesOf(text: string, { widthMm }: Frame, { textHeightMm }: Captioned) {
  const lines = textLines(text, textHeightMm, widthMm);
  return { lines, heights: GAP + 1 + (lines.length - 1) * LINE_STEP + BELOW };
}

/** Burn the rows of the text as they are. A halftone could leave out a pixel of a letter, or add one beside it. */
export function burnCaption(
  { top, row }: Caption,
  { bytes, stride, levels }: Pick<PackedBitmap, "bytes" | "stride" | "levels">,
  y: number,
  count: number,
): void {
  for (let i = Math.max(0, top - y); i < count; i++) {
    const marks = row(y + i);
    bytes.fill(0, i * stride, (i + 1) * stride);
    for (let x = 0; x < marks.length; x++) {
      if (marks[x] !== BORDER) continue;
      if (levels > 2) bytes[i * stride + x] = levels - 1;
      else bytes[i * stride + (x >> 3)] |= 128 >> (x & 7);
    }
  }
}
