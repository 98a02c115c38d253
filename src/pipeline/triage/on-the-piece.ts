import type { Photo } from "../../1-photo/photo.js";
import type { Frame } from "../../3-resample/frame.js";
import { blocking } from "./blocking.js";
import { blurPx } from "./blur.js";
import { cellMaps } from "./cell-map.js";
import { type Grain, grainOf } from "./grain.js";
import { spotPicture } from "./spot-picture.js";

/** Scales at which edges are measured, each half as fine as the one before. */
const SCALES = 4;

/** What the piece would show of a photo's faults. */
export interface SeenOnPiece {
  /** Full width at half maximum; absent if the picture has too few edges. */
  readonly blur?: { readonly mm: number; readonly spots: number; readonly px: number };
  readonly grain: Grain;
  /** See `blocking`. */
  readonly blocking: number;
}

/** Photo pixels per mm of the piece. */
export interface PxPerMm {
  readonly along: number;
  readonly across: number;
}

/** What a piece can show, and from where it is looked at. */
export interface Shown {
  /** Pixels per mm that spot and pitch can show. */
  readonly shownPxPerMm: number;
  readonly viewDistanceMm: number;
}

/** Judge blur, noise and compression of a photo as its piece would show them. */
export function seenOnPiece(photo: Photo, frame: Frame, shown: Shown): SeenOnPiece {
  const { shownPxPerMm, viewDistanceMm } = shown;
  const pxPerMm = pxPerMmOf(frame);
  const window = frame.sheet?.window ?? frame.window;
  // Photo pixels that are coarser than the spot stay as they are.
  const by = {
    along: Math.max(1, pxPerMm.along / shownPxPerMm),
    across: Math.max(1, pxPerMm.across / shownPxPerMm),
  };
  const picture = spotPicture({ ...photo, window }, by);
  const maps = cellMaps(picture, SCALES);
  const grain = grainOf(maps[0], maps[1], picture.whiteShares);
  const px = blurPx(maps, grain.floor);
  const mm = Math.sqrt((by.along / pxPerMm.along) * (by.across / pxPerMm.across));
  return {
    ...(px !== undefined && { blur: { px, mm: px * mm, spots: px * mm * shownPxPerMm } }),
    grain,
    blocking: blocking(photo.luminance, window, {
      pxPerMm: Math.sqrt(pxPerMm.along * pxPerMm.across),
      spotMm: 1 / shownPxPerMm,
      viewDistanceMm,
    }),
  };
}

/** Photo pixels per mm of the piece; on a cone, in its middle. */
export function pxPerMmOf({ window, placement, columns, rows, widthMm, heightMm, sheet }: Frame): PxPerMm {
  if (sheet) return { along: sheet.pxPerMmAlong, across: sheet.pxPerMmAcross };
  return {
    along: window.width / ((placement.columns / columns) * widthMm),
    across: window.height / ((placement.rows / rows) * heightMm),
  };
}
