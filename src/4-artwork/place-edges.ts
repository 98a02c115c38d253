import { FRACTION_ONE, STAYS_BARE } from "../core/burn-fraction.js";
import { EDGE_RANKS, edgeRank, rankShare } from "../core/edge-order.js";
import { type EdgePlacement, NORMAL_STEPS } from "../core/edge-placement.js";
import type { Pitch } from "../core/plane.js";
import type { PlaneRows } from "../core/plane-rows.js";
import { lookUpProbit, MIN_COVERAGE, probitTable } from "./probit.js";
import {
  type Crossing,
  crossesThinPart,
  type Look,
  type RowsAbout,
  type Steps,
  summedCoverage,
} from "./ridge.js";
import { rowWindow } from "./row-window.js";
import { type ThinParts, type ThinPartTally, tallyThinParts } from "./thin-parts.js";

/** A drawing on the engraving grid. */
export interface ArtworkField {
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch;
  /** The drawing under a Gaussian blur: share to engrave, 0..1. */
  readonly coverage: PlaneRows;
  /** Standard deviation of that blur, in mm: about 0.6 pixels or more. */
  readonly blurAlongMm: number;
  readonly blurAcrossMm: number;
  /** Shift of the marks along even and odd lines, in mm, without the lag. */
  readonly lineOffsetMm: readonly [even: number, odd: number];
  /** True if the last and the first pixel of a row are neighbours. */
  readonly closed?: boolean;
}

export interface PlacedEdges {
  /** Burn fractions of row y as integer codes, 0 or 1. Call once per row, in rising order. */
  readonly fractions: (y: number, out: Int16Array) => void;
  /** In the rows so far: strokes thinner than the thinnest mark, and gaps that close. */
  readonly thinStrokes: () => ThinParts;
  readonly closingGaps: () => ThinParts;
}

/** Smallest coverage in the middle of a stroke: that of an eighth of a pixel, in the worst case between two pixels. */
const MIN_STROKE = 0.06;

const ONE_PIXEL = { along: 1, across: 1 } as const;

/** Range on either side, in blurs, over which the coverage of a thin part is summed: all but 1 %. */
const SUMMED_BLURS = 2.5;

/**
 * Choose the pixels to burn so that engraved edges lie where they are drawn. Under a Gaussian blur of standard deviation s, the
 * coverage near a straight edge is Φ(d/s), with d the distance inwards. So d = s · Φ⁻¹(coverage), and a pixel burns if d reaches
 * the threshold for the direction of the edge and the rank of the pixel (`EdgePlacement`). This is exact for straight edges that
 * are at least about two blurs apart. Corners are rounded by about one blur, less than by the spot.
 *
 * Strokes thinner than the thinnest mark keep, in their middle, the smallest number of pixels that leaves a mark.
 *
 * @param placement see `measureEdgePlacement`
 */
export function placeEdges(field: ArtworkField, placement: EdgePlacement): PlacedEdges {
  const { columns, pitch, coverage } = field;
  const { thinnestMarkMm: thinnest, closingGapMm: closing } = placement;
  const forStrokes = lookFor(field, 1, placement.minRunPx, thinnest);
  const forGaps = lookFor(field, 0, ONE_PIXEL, closing);
  const shifts = field.lineOffsetMm.map((mm) => Math.round(mm / pitch.alongMm));
  const about = {
    along: Math.ceil((thinnest.along + SUMMED_BLURS * field.blurAlongMm) / pitch.alongMm),
    across: Math.ceil((thinnest.across + SUMMED_BLURS * field.blurAcrossMm) / pitch.acrossMm),
  };
  const looks: Steps[] = [...stepsOf(forStrokes), ...stepsOf(forGaps), about];
  const reach = Math.max(...looks.map(({ across }) => across));
  const margin = Math.max(...looks.map(({ along }) => along)) + Math.max(...shifts.map(Math.abs));
  const rowsAbout = rowWindow(coverage, field, reach, margin);
  const isInside = insideTest(field, placement, about);
  const strokes = tallyThinParts(Math.max(thinnest.along, thinnest.across));
  const gaps = tallyThinParts(Math.max(closing.along, closing.across));
  const crossing: Crossing = { along: true, widthMm: 0, lengthMm: 0 };

  /** Counts the thin part at a pixel, if there is one, and returns whether there is one. */
  const counter = (look: Look, limitMm: Steps, parts: ThinPartTally) => (lines: RowsAbout, at: number) => {
    if (!crossesThinPart(lines, at, look, crossing)) return false;
    const { along, widthMm, lengthMm } = crossing;
    if (widthMm < (along ? limitMm.along : limitMm.across)) parts.add(widthMm, lengthMm);
    return true;
  };
  const countStroke = counter(forStrokes, thinnest, strokes);
  const countGap = counter(forGaps, closing, gaps);

  return {
    fractions(y, out) {
      const lines = rowsAbout(y);
      const here = lines[(lines.length - 1) >> 1];
      const odd = y & 1;
      const first = margin + shifts[odd];
      const offMm = field.lineOffsetMm[odd] - shifts[odd] * pitch.alongMm;
      for (let x = 0; x < columns; x++) {
        const at = first + x;
        const covered = here[at];
        if (covered <= MIN_COVERAGE || covered >= 1 - MIN_COVERAGE) {
          out[x] = covered > 0.5 ? FRACTION_ONE : STAYS_BARE;
          continue;
        }
        let burns = isInside(lines, at, x, y, offMm);
        if (covered > MIN_STROKE && countStroke(lines, at)) burns = true;
        if (covered < 1 - MIN_STROKE) countGap(lines, at);
        out[x] = burns ? FRACTION_ONE : STAYS_BARE;
      }
    },
    thinStrokes: strokes.parts,
    closingGaps: gaps.parts,
  };
}

function lookFor(
  { pitch, blurAlongMm, blurAcrossMm }: ArtworkField,
  ink: 0 | 1,
  run: Steps,
  thinMm: Steps,
): Look {
  const along = blurAlongMm / pitch.alongMm;
  const across = blurAcrossMm / pitch.acrossMm;
  const half = { along: thinMm.along / 2 / pitch.alongMm, across: thinMm.across / 2 / pitch.acrossMm };
  return {
    ink,
    pitch,
    run,
    beside: {
      along: Math.max(run.along, Math.ceil(2 * along)),
      across: Math.max(run.across, Math.ceil(2 * across)),
    },
    onward: {
      along: Math.max(run.along, Math.round(along)),
      across: Math.max(run.across, Math.round(across)),
    },
    window: {
      along: Math.ceil(half.along + SUMMED_BLURS * along),
      across: Math.ceil(half.across + SUMMED_BLURS * across),
    },
  };
}

const stepsOf = ({ run, beside, onward, window }: Look): Steps[] => [run, beside, onward, window];

/**
 * A test of whether a pixel lies far enough inside a part that is not a thin stroke. `at` is the index of the pixel in the rows,
 * (x, y) its place on the grid, `offMm` the shift of its mark.
 *
 * @param about pixels on either side that are enough to distinguish thin and thick strokes
 */
function insideTest(
  { pitch, blurAlongMm, blurAcrossMm }: ArtworkField,
  placement: EdgePlacement,
  about: Steps,
) {
  const { meanMm, alongMm, acrossMm, thinnestMarkMm } = placement;
  const probit = probitTable();
  const depthAt = (coverage: number): number => lookUpProbit(probit, coverage);
  const period = Array.from({ length: EDGE_RANKS }, (_, i) => i);
  const vertical = period.map((y) => Uint8Array.from(period, (x) => edgeRank(x, y, true)));
  const flat = period.map((y) => Uint8Array.from(period, (x) => edgeRank(x, y, false)));

  return (lines: RowsAbout, at: number, x: number, y: number, offMm: number): boolean => {
    const reach = (lines.length - 1) >> 1;
    const here = lines[reach];
    // From depths, because coverage is not linear: its differences would turn the normal by up to 10°.
    const slopeX = (depthAt(here[at + 1]) - depthAt(here[at - 1])) / pitch.alongMm;
    const slopeY = (depthAt(lines[reach + 1][at]) - depthAt(lines[reach - 1][at])) / pitch.acrossMm;
    const slope = Math.hypot(slopeX, slopeY);
    if (slope === 0) return here[at] >= 0.5;
    const nx = slopeX / slope;
    const ny = slopeY / slope;
    const shareX = nx * nx;
    const shareY = ny * ny;
    const blurMm = Math.sqrt(blurAlongMm * blurAlongMm * shareX + blurAcrossMm * blurAcrossMm * shareY);
    const depthMm = blurMm * depthAt(here[at]) + offMm * nx;
    const step = Math.min(NORMAL_STEPS - 1, Math.floor(shareY * NORMAL_STEPS));
    const mean = meanMm[step] + (meanMm[step + 1] - meanMm[step]) * (shareY * NORMAL_STEPS - step);
    const rowsAlong = shareX * pitch.alongMm * pitch.alongMm;
    const rowsAcross = shareY * pitch.acrossMm * pitch.acrossMm;
    const isVertical = rowsAlong >= rowsAcross;
    const own = isVertical
      ? alongMm[vertical[y % EDGE_RANKS][x % EDGE_RANKS]] * Math.abs(nx)
      : acrossMm[flat[y % EDGE_RANKS][x % EDGE_RANKS]] * Math.abs(ny);
    if (depthMm < mean + own * rankShare(rowsAlong, rowsAcross)) return false;
    return isVertical
      ? summedCoverage(lines, at, true, about.along) * pitch.alongMm * Math.abs(nx) >= thinnestMarkMm.along
      : summedCoverage(lines, at, false, about.across) * pitch.acrossMm * Math.abs(ny) >=
          thinnestMarkMm.across;
  };
}
