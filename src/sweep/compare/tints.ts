import { burnFlatPatch, type PatchSize } from "../../5-burn/flat-patch.js";
import { graininess } from "../../5-burn/graininess.js";
import { tintTexture } from "../../5-burn/texture.js";
import { patchLightness } from "../../5-burn/tonal-resolution.js";
import type { CandidateTint } from "../../6-report/comparison.js";
import { fractionCode } from "../../core/burn-fraction.js";
import { unpackArea, unpackBitmap } from "../../core/packed-bits.js";
import { halftoneFunction } from "../../pipeline/job.js";
import { fractionFor } from "../../pipeline/judge/tone-counts.js";
import { viewingOf } from "../../pipeline/judge/viewing.js";
import type { JudgedPiece } from "../../pipeline/made-piece.js";

/** Lightness L* of the photo for each tint. */
const TINTS = { mid: 50, light: 85 } as const;

/** Large enough for several periods of the coarsest grain that the eye sees well, and for sixteen segments of the spectrum. */
const MIN_SIDE_MM = 10;
const MIN_SIDE_PX = 256;
const MAX_SIDE_PX = 1024;

/** Halftones have settled after this margin, as in the patches on which tones are counted. */
const MARGIN_PX = 24;

/** A flat mid-tone and a flat light tone, engraved as a candidate engraves these tones of its photo. */
export function tintsOf(piece: JudgedPiece): {
  readonly mid: CandidateTint;
  readonly light: CandidateTint;
} {
  return { mid: tintOf(TINTS.mid, piece), light: tintOf(TINTS.light, piece) };
}

function tintOf(lightness: number, { job, method, rule }: JudgedPiece): CandidateTint {
  const { memory, model, options } = job;
  const release = memory.mark();
  const { pitch } = options;
  const size: PatchSize = {
    columns: sideFor(pitch.alongMm),
    rows: sideFor(pitch.acrossMm),
    marginPx: MARGIN_PX,
  };
  const halftone = halftoneFunction(method, job);
  const fraction = fractionFor(lightness, model, rule.burnFor);
  const { plan, response } = model;
  const patch = burnFlatPatch({ plan, response, memory }, halftone, fraction, size, [1]);
  const { columns, rows } = size;
  const grain = graininess(patch.planes[0], columns, rows, pitch, viewingOf(options));
  const inner = { left: patch.marginPx, top: patch.marginPx, columns, rows };
  const texture = tintTexture(unpackArea(patch.bitmap, inner), columns, rows, pitch);
  release();
  return { photoLightness: lightness, graininess: grain, ...(texture && { texture }) };
}

function sideFor(pitchMm: number): number {
  const wanted = Math.max(MIN_SIDE_PX, MIN_SIDE_MM / pitchMm);
  return Math.min(MAX_SIDE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

const COUNTED_PX = 64;

/**
 * The number of different tints that a candidate makes of the 33 on which tones are counted. A plain threshold makes two. Held
 * tones count distinct steps of lightness, whether or not there are tints to fill them.
 */
export function differentTints(piece: JudgedPiece): { readonly made: number; readonly asked: number } {
  const { job, method, rule } = piece;
  const release = job.memory.mark();
  const halftone = halftoneFunction(method, job);
  const made = new Set<number>();
  const asked = patchLightness();
  for (const lightness of asked) {
    const code = fractionCode(fractionFor(lightness, job.model, rule.burnFor));
    const tint = halftone(new Int16Array(COUNTED_PX ** 2).fill(code), COUNTED_PX, COUNTED_PX);
    made.add(unpackBitmap(tint).reduce((sum, level) => sum + level, 0));
  }
  release();
  return { made: made.size, asked: asked.length };
}
