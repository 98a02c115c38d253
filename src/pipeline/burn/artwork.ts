import type { Photo } from "../../1-photo/decode.js";
import { artworkTable, artworkTones } from "../../2-tone/artwork-tones.js";
import { GAUSSIAN_SIGMA } from "../../3-resample/filters.js";
import type { Frame } from "../../3-resample/frame.js";
import { isCopy } from "../../3-resample/taps.js";
import { placeEdges } from "../../4-artwork/place-edges.js";
import type { FractionRows } from "../../5-burn/compensate.js";
import { measureEdgePlacement } from "../../5-burn/edge-placement.js";
import type { Report } from "../../6-report/report.js";
import { FRACTION_ONE, STAYS_BARE } from "../../core/burn-fraction.js";
import type { EdgePlacement } from "../../core/edge-placement.js";
import { blurredRows } from "../../core/gaussian-blur.js";
import { halfResponseDose, leavesMark } from "../../core/material/half-response.js";
import { smoothFromMm } from "../../core/physics/modulation.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import { columnsOf, denseData } from "../../core/plane.js";
import type { PlaneRows } from "../../core/plane-rows.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Job } from "../job.js";
import { bareLuminance, gridRows } from "../photo/luminance.js";
import { edgeRowsOf } from "../photo/picture-outline.js";
import { type PictureOnGrid, withPlanes } from "../photo/picture-rows.js";
import type { BurnStage } from "./burn-stage.js";
import { burnBands } from "./halftone-piece.js";

/** A drawing on the grid. Its luminance is linear from bare surface to solid fill. */
export interface DrawingOnGrid extends PictureOnGrid {
  /** Share of the picture that is neither of its two tones. */
  readonly between: number;
  /** True if `negative` is set for a single ink on a transparent ground, which has no second tone to swap. */
  readonly negativeIdle: boolean;
}

export function drawingOnGrid(photo: Photo, frame: Frame, options: ResolvedOptions): DrawingOnGrid {
  const { autoTone, negative } = options;
  const bare = bareLuminance(options);
  const darkens = bare === 1;
  const opacity = photo.opacity && denseData(photo.opacity);
  const tones = artworkTones(
    denseData(photo.luminance),
    opacity,
    columnsOf(photo.luminance),
    darkens !== negative,
    !autoTone,
  );
  return {
    ...withPlanes({ photo, frame, bare, tones: artworkTable(tones, darkens) }),
    between: tones.between,
    negativeIdle: negative && tones.oneInk,
  };
}

/**
 * The largest distance of a threshold from an edge, in standard deviations of the blur. Beyond it, the distance cannot be
 * measured.
 */
const MAX_BLURS = 2.2;

/**
 * Place the edges of the whole drawing for the mark, and send it to the burn stage. Returns the facts about the edges.
 * Throws `OPTION_CONFLICT` if nothing would show.
 */
export async function placeDrawing(
  job: Job,
  drawing: DrawingOnGrid,
  stage: BurnStage,
): Promise<NonNullable<Report["edges"]>> {
  const { memory, model, options } = job;
  const { pitch, spot, motion, material } = options;
  if (!leavesMark(model.bare, model.solid)) throw refusal("fill-unmarked", { material: material.name });
  const release = memory.mark();
  const placement = measureEdgePlacement(
    { pitch, spot, motion },
    halfResponseDose(model.response, model.solid),
    memory,
    material,
  );
  const { coverage, blurAlongMm, blurAcrossMm } = blurredInk(job, drawing, placement);
  const { columns, rows } = drawing.frame;
  const { lateMm } = placement;
  const back = motion.oneWay ? lateMm : motion.lineShiftMm - lateMm;
  const edges = placeEdges(
    {
      ...{ columns, rows, pitch, coverage, blurAlongMm, blurAcrossMm },
      lineOffsetMm: [lateMm, back],
      closed: options.ringColumns > 0,
    },
    placement,
  );
  const outline = edgeRowsOf(drawing.frame, options);
  await burnBands(
    outline ? outlinedFractions(edges.fractions, outline) : edges.fractions,
    drawing.frame,
    stage,
  );
  release();
  const larger = ({ along, across }: { along: number; across: number }): number => Math.max(along, across);
  const toleranceMm = larger(placement.toleranceMm);
  return {
    growthAlongMm: placement.meanMm[0],
    growthAcrossMm: placement.meanMm[placement.meanMm.length - 1],
    toleranceMm,
    smoothFromMm: smoothFromMm(SWING * toleranceMm),
    thinnestMarkMm: larger(placement.thinnestMarkMm),
    closingGapMm: larger(placement.closingGapMm),
    thinStrokes: edges.thinStrokes(),
    closingGaps: edges.closingGaps(),
    between: drawing.between,
  };
}

/**
 * Edges swing this many times as far as their mean place may be off, as seen: from where they are said to look smooth, the
 * lightness along edges of any slant varies by about 1 L* rms, 0.5 to 1.6 (brute force and an eye's filter: artwork.test.ts).
 */
const SWING = 3;

/** Outside an oval and in a gap nothing burns. In the border everything burns: its width in pixels already allows for the mark. */
function outlinedFractions(fractions: FractionRows, edge: EdgeRows): FractionRows {
  return (y, out) => {
    fractions(y, out);
    const shares = edge(y);
    for (let x = 0; x < shares.length; x++) {
      if (shares[x] === BORDER) out[x] = FRACTION_ONE;
      else if (shares[x] === 0) out[x] = STAYS_BARE;
    }
  };
}

/** Blur over the minimum width of a stroke in pixels, so that the outermost pixels still see the stroke. */
const BLURS_OF_RUN = 0.4;

/** A narrower Gaussian, sampled once per pixel, does not have its nominal width. */
const MIN_TAPPED_SIGMA = 0.7;

/**
 * The share of each pixel's surroundings that the drawing covers, under a Gaussian blur. Also returns the blur's standard
 * deviation.
 */
function blurredInk(
  { memory, options }: Job,
  drawing: DrawingOnGrid,
  { meanMm, alongMm, acrossMm, minRunPx }: EdgePlacement,
): { coverage: PlaneRows; blurAlongMm: number; blurAcrossMm: number } {
  const { columns, rows, window, placement, sheet } = drawing.frame;
  const { pitch } = options;
  // On a sheet the drawing's own pixels are coarser than its grid.
  const drawnPerPx = {
    along: sheet ? sheet.pxPerMmAlong * pitch.alongMm : window.width / placement.columns,
    across: sheet ? sheet.pxPerMmAcross * pitch.acrossMm : window.height / placement.rows,
  };
  const blurredPx = {
    along: blurPx(window.left, window.width, placement.columns, drawnPerPx.along),
    across: blurPx(window.top, window.height, placement.rows, drawnPerPx.across),
  };
  const farthestMm = Math.max(...meanMm.map(Math.abs)) + Math.max(...[...alongMm, ...acrossMm].map(Math.abs));
  const wantedMm = farthestMm / MAX_BLURS;
  const extraPx = (px: number, pitchMm: number, runPx: number): number => {
    const wantedPx = Math.max(GAUSSIAN_SIGMA, wantedMm / pitchMm, runPx > 1 ? runPx * BLURS_OF_RUN : 0);
    const missing = wantedPx ** 2 - px * px;
    return missing <= 0 ? 0 : Math.max(MIN_TAPPED_SIGMA, Math.sqrt(missing));
  };
  const extra = {
    along: extraPx(blurredPx.along, pitch.alongMm, minRunPx.along),
    across: extraPx(blurredPx.across, pitch.acrossMm, minRunPx.across),
  };
  const luminance = gridRows(drawing, options, memory, "gaussian");
  const blurred =
    extra.along === 0 && extra.across === 0
      ? luminance
      : blurredRows(
          memory,
          {
            columns,
            rows,
            sigmaAlongPx: extra.along,
            sigmaAcrossPx: extra.across,
            valuesPerPixel: 1,
            gain: 1,
            closed: options.ringColumns > 0,
          },
          luminance,
        );
  const ink = new Float32Array(columns);
  return {
    coverage: (y) => {
      const row = blurred(y);
      for (let x = 0; x < columns; x++) ink[x] = Math.abs(row[x] - drawing.bare);
      return ink;
    },
    blurAlongMm: Math.hypot(blurredPx.along, extra.along) * pitch.alongMm,
    blurAcrossMm: Math.hypot(blurredPx.across, extra.across) * pitch.acrossMm,
  };
}

/** Variance of a box of width 1: a rendered drawing is averaged over each pixel. */
const BOX_VARIANCE = 1 / 12;

/** Standard deviation of the blur along one axis after the Gaussian filter, in pixels of the grid. */
function blurPx(start: number, length: number, outputs: number, drawnPerPx: number): number {
  const sourcePerPx = length / outputs;
  const rendered = BOX_VARIANCE / drawnPerPx ** 2;
  if (isCopy(start, start + length, outputs)) return Math.sqrt(rendered);
  return Math.sqrt(rendered + (GAUSSIAN_SIGMA * Math.max(1, 1 / sourcePerPx)) ** 2);
}
