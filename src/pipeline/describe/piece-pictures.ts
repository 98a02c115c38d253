import type { Frame } from "../../3-resample/frame.js";
import type { SampleTaps } from "../../5-burn/sample-taps.js";
import type { BitmapTexture } from "../../6-report/files/deflate.js";
import type { Painter } from "../../6-report/pictures/appearance.js";
import {
  createLoupe,
  type Loupe,
  type LoupeTaps,
  loupeTables,
  type SeenPiece,
} from "../../6-report/pictures/loupe.js";
import type { RgbPicture } from "../../6-report/pictures/preview.js";
import type { PictureSize } from "../../6-report/pictures/preview-size.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import type { Job } from "../job.js";
import { roundExposure } from "../photo/round-piece.js";

/** The predicted piece at screen size, as its owner sees it. */
export interface PieceOnScreen extends PictureSize {
  /** [rows × columns] luminance factors */
  readonly values: Float32Array;
}

/** The pictures of a finished bitmap. */
export interface PiecePictures {
  readonly preview: RgbPicture;
  readonly piece: PieceOnScreen;
  /** Only if a page is drawn. */
  readonly page?: {
    readonly predicted: RgbPicture;
    /** Of a cone: its surface as far as the bitmap covers it, true to scale. */
    readonly unrolled?: RgbPicture;
    readonly loupe: Loupe;
  };
}

/** The dots of a bitmap, with this job's exposure and response. The page simulates the marks itself. */
export function loupeOf(
  { model, options }: Job,
  bitmap: PackedBitmap,
  frame: Frame,
  seen: SeenPiece,
  { paint, texture }: { readonly paint: Painter; readonly texture: BitmapTexture },
): Promise<Loupe> {
  const { columns } = bitmap;
  const { samplesAlong, samplesAcross, evenLines, oddLines, across, lineExponent } = model.plan;
  const { closed, doseOfRow } = roundExposure(frame);
  return createLoupe(bitmap, options.pitch, texture, seen, {
    samplesAlong,
    samplesAcross,
    evenLines: loupeTaps(evenLines, samplesAlong, columns),
    oddLines: loupeTaps(oddLines, samplesAlong, columns),
    across: loupeTaps(across, samplesAcross, Number.POSITIVE_INFINITY),
    lineExponent,
    closed,
    inverseDose: [1 / doseOfRow(0), 1 / doseOfRow(bitmap.rows - 1)],
    ...loupeTables(model.response, paint),
  });
}

/** Taps as plain numbers of six digits. They include the long tail of a firing lag, as far as it stays within a line. */
function loupeTaps(line: SampleTaps, samples: number, maxPx: number): LoupeTaps {
  const { direction = 1, from = 0, decay = 0, weights } = line.tail ?? {};
  const reach = Math.min(line.reach, maxPx);
  const before = weights && direction === 1 ? Math.max(line.before, reach) : line.before;
  const after = weights && direction === -1 ? Math.max(line.after, reach) : line.after;
  const width = before + after + 1;
  const taps = Array.from({ length: samples * width }, (_, i) => {
    const s = Math.floor(i / width);
    const k = (i % width) - before;
    const near = k >= -line.before && k <= line.after;
    const weight = near
      ? line.taps[s * line.width + k + line.before]
      : (weights?.[s] ?? 0) * decay ** (-direction * k - from);
    return Number(weight.toPrecision(6));
  });
  if (!line.bursts) return { before, width, taps };
  const { part, ...bursts } = line.bursts;
  return {
    ...{ before, width, taps },
    bursts: { ...bursts, part: loupeTaps({ ...part, reach: line.reach }, samples, maxPx).taps },
  };
}
