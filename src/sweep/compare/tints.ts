import { burnFlatPatch, type PatchSize } from "../../5-burn/flat-patch.js";
import { graininess } from "../../5-burn/graininess.js";
import { tintTexture } from "../../5-burn/texture.js";
import { patchLightness } from "../../5-burn/tonal-resolution.js";
import type { CandidateTint } from "../../6-report/comparison.js";
import { fractionCode } from "../../core/burn-fraction.js";
import { type PackedBitmap, packedRow, unpackRow } from "../../core/packed-bits.js";
import { halftoneFunction } from "../../pipeline/job.js";
import { fractionFor } from "../../pipeline/judge/tone-counts.js";
import { viewingOf } from "../../pipeline/judge/viewing.js";
import type { FinishedPiece } from "../../pipeline/prepare.js";

/** Lightness L* of the photo that the tints stand for. */
const TINTS = { mid: 50, light: 85 } as const;

/** Large enough for a few waves of the coarsest grain that the eye sees well, and for sixteen segments of the spectrum. */
const LEAST_SIDE_MM = 10;
const LEAST_SIDE_PX = 256;
const MOST_SIDE_PX = 1024;

/** Halftones have settled by then, as in the patches that tones are counted on. */
const MARGIN_PX = 24;

/** A flat mid-tone and a flat light tone, engraved as a candidate engraves these tones of its photo. */
export function tintsOf(piece: FinishedPiece): {
  readonly mid: CandidateTint;
  readonly light: CandidateTint;
} {
  return { mid: tintOf(TINTS.mid, piece), light: tintOf(TINTS.light, piece) };
}

function tintOf(lightness: number, { memory, model, options, method, burner }: FinishedPiece): CandidateTint {
  const release = memory.mark();
  const { pitch } = options;
  const size: PatchSize = {
    columns: sideFor(pitch.alongMm),
    rows: sideFor(pitch.acrossMm),
    marginPx: MARGIN_PX,
  };
  const halftone = halftoneFunction(method, options, model, memory);
  const fraction = fractionFor(lightness, model, burner.burnFor);
  const { plan, response } = model;
  const patch = burnFlatPatch({ plan, response, memory }, halftone, fraction, size, [1]);
  const { columns, rows } = size;
  const grain = graininess(patch.planes[0], columns, rows, pitch, viewingOf(options));
  const texture = tintTexture(withoutBorder(patch.bitmap, patch.marginPx), columns, rows, pitch);
  release();
  return { photoLightness: lightness, graininess: grain, ...(texture && { texture }) };
}

function sideFor(pitchMm: number): number {
  const wanted = Math.max(LEAST_SIDE_PX, LEAST_SIDE_MM / pitchMm);
  return Math.min(MOST_SIDE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

/** Power levels, one byte a pixel, row-major. */
function withoutBorder(bitmap: PackedBitmap, marginPx: number): Uint8Array {
  const columns = bitmap.columns - 2 * marginPx;
  const rows = bitmap.rows - 2 * marginPx;
  const out = new Uint8Array(columns * rows);
  const line = new Uint8Array(bitmap.columns);
  for (let y = 0; y < rows; y++) {
    const packed = packedRow(bitmap, y + marginPx);
    if (bitmap.levels === 2) unpackRow(packed, 0, bitmap.columns, line, 0);
    else line.set(packed);
    out.set(line.subarray(marginPx, marginPx + columns), y * columns);
  }
  return out;
}

const COUNTED_PX = 64;

/**
 * How many different tints a candidate makes of the 33 that tones are counted on: a plain threshold makes two. Held tones
 * count steps of lightness that stand clear, whether or not there are tints to fill them.
 */
export function differentTints(piece: FinishedPiece): { readonly made: number; readonly asked: number } {
  const { memory, model, options, method, burner } = piece;
  const release = memory.mark();
  const halftone = halftoneFunction(method, options, model, memory);
  const made = new Set<number>();
  const asked = patchLightness();
  for (const lightness of asked) {
    const code = fractionCode(fractionFor(lightness, model, burner.burnFor));
    const tint = halftone(new Int16Array(COUNTED_PX ** 2).fill(code), COUNTED_PX, COUNTED_PX);
    made.add(withoutBorder(tint, 0).reduce((sum, level) => sum + level, 0));
  }
  release();
  return { made: made.size, asked: asked.length };
}
