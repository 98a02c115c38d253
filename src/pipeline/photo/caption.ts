import type { Frame } from "../../3-resample/frame.js";
import { fillRow } from "../../4-artwork/fill-polygons.js";
import { textLines } from "../../4-artwork/text-lines.js";
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

/** At most so high is the room for the text, each word in a line of its own: an estimate without the font, which may lack a letter. */
export function mostCaptionMm({ text, textHeightMm }: Pick<Captioned, "text" | "textHeightMm">): number {
  return text === undefined ? 0 : heightsOf(text.split(/[ \n]/).length) * textHeightMm;
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
  return { lines, heights: heightsOf(lines.length) };
}

const heightsOf = (lines: number): number => GAP + 1 + (lines - 1) * LINE_STEP + BELOW;
