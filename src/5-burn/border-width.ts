import { erfc } from "../core/physics/erf.js";
import { type BeamPath, lossLengthMm } from "../core/spot.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";

/** A border line of `px` pixels in the bitmap, and the width of its mark. */
export interface BorderWidth {
  readonly px: number;
  readonly markMm: number;
}

/**
 * Widths of the vertical and the horizontal parts of a border: the whole number of pixels, one or more, whose mark is nearest to
 * the wanted width. The mark of a long solid line ends where its dose falls to the half response (sections 2 and 11). Vertical
 * parts are boxes along the scan, blurred by the spot; horizontal parts are sums of Gaussian lines. The line of an oval has the
 * same width in mm all round, and the mean of its two marks is nearest. A firing loss shortens the boxes.
 *
 * @param widthMm above 0
 * @param halfDose dose at which the surface is half marked: `halfResponseDose`
 * @param lineExponent see `MaterialData`
 */
export function borderWidths(
  widthMm: number,
  { pitch, spot, motion }: BeamPath,
  halfDose: number,
  oval: boolean,
  lineExponent = 1,
): { readonly vertical: BorderWidth; readonly horizontal: BorderWidth } {
  const sigmaAlongMm = sigmaMmFromSpotDiameterMm(spot.alongMm);
  const sigmaAcrossMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  const lossMm = lossLengthMm(motion);
  const verticalMarkMm = (px: number) => {
    const boxMm = px * pitch.alongMm - lossMm;
    return markMm((at) => boxDose(at, boxMm, sigmaAlongMm), 0, sigmaAlongMm, boxMm, halfDose);
  };
  const horizontalMarkMm = (px: number) => {
    const dose = (at: number) =>
      linesDose(at, px, { pitchMm: pitch.acrossMm, sigmaMm: sigmaAcrossMm, lineExponent });
    return markMm(dose, ((px - 1) * pitch.acrossMm) / 2, sigmaAcrossMm, px * pitch.acrossMm, halfDose);
  };
  const vertical = nearestTo(widthMm, pitch.alongMm, [lossMm, 2 * spot.alongMm], verticalMarkMm);
  const horizontal = nearestTo(widthMm, pitch.acrossMm, [0, 2 * spot.acrossMm], horizontalMarkMm);
  if (!oval) return { vertical, horizontal };
  const [oneMm, otherMm] = [vertical.px * pitch.alongMm, horizontal.px * pitch.acrossMm];
  const offered = [oneMm, otherMm, (oneMm + otherMm) / 2].map((lineMm) => {
    const verticalPx = Math.max(1, Math.round(lineMm / pitch.alongMm));
    const horizontalPx = Math.max(1, Math.round(lineMm / pitch.acrossMm));
    return {
      vertical: { px: verticalPx, markMm: verticalMarkMm(verticalPx) },
      horizontal: { px: horizontalPx, markMm: horizontalMarkMm(horizontalPx) },
    };
  });
  const offMm = (one: (typeof offered)[number]): number =>
    Math.abs((one.vertical.markMm + one.horizontal.markMm) / 2 - widthMm);
  return offered.reduce((best, one) => (offMm(one) < offMm(best) ? one : best));
}

/**
 * The search starts low: every pixel widens the mark. It ends at a run that is wide enough for a mark of the wanted width if it
 * leaves one at all. If it leaves none, the line is as wide as it was wanted.
 *
 * @param lossMm what each run of pixels is shortened by
 * @param growthMm a limit of what a mark is wider or narrower than that: no edge moves by as much as a spot
 */
function nearestTo(
  widthMm: number,
  pitchMm: number,
  [lossMm, growthMm]: readonly [number, number],
  markOf: (px: number) => number,
): BorderWidth {
  let px = Math.max(1, Math.floor((widthMm + lossMm - growthMm) / pitchMm));
  const lastPx = Math.max(px, Math.ceil((widthMm + lossMm + growthMm) / pitchMm)) + 1;
  let mark = markOf(px);
  for (;;) {
    if (mark === 0 && px > lastPx) return { px: Math.max(1, Math.round(widthMm / pitchMm)), markMm: 0 };
    const wider = markOf(px + 1);
    if (Math.abs(wider - widthMm) >= Math.abs(mark - widthMm) && mark > 0) return { px, markMm: mark };
    px++;
    mark = wider;
  }
}

/** Width where the dose of a line exceeds the half dose, or 0. `dose` depends on the distance from the middle of the line. */
function markMm(
  dose: (atMm: number) => number,
  outermostMm: number,
  sigmaMm: number,
  boxMm: number,
  halfDose: number,
): number {
  let inside = dose(outermostMm) > halfDose ? outermostMm : 0;
  if (dose(inside) <= halfDose) return 0;
  let outside = boxMm / 2 + FAR * sigmaMm;
  for (let i = 0; i < 50; i++) {
    const middle = (inside + outside) / 2;
    if (dose(middle) > halfDose) inside = middle;
    else outside = middle;
  }
  return inside + outside;
}

/** Beyond this many standard deviations from the last line the dose is practically 0. */
const FAR = 8;

const boxDose = (atMm: number, widthMm: number, sigmaMm: number): number =>
  (erfc((atMm - widthMm / 2) / (Math.SQRT2 * sigmaMm)) -
    erfc((atMm + widthMm / 2) / (Math.SQRT2 * sigmaMm))) /
  2;

interface LinesBeside {
  readonly pitchMm: number;
  readonly sigmaMm: number;
  readonly lineExponent: number;
}

function linesDose(atMm: number, lines: number, { pitchMm, sigmaMm, lineExponent }: LinesBeside): number {
  const gain = pitchMm / (sigmaMm * Math.sqrt(2 * Math.PI));
  const middle = atMm / pitchMm + (lines - 1) / 2;
  const reach = (FAR * sigmaMm) / pitchMm;
  let sum = 0;
  for (let j = Math.max(0, Math.ceil(middle - reach)); j <= Math.min(lines - 1, middle + reach); j++) {
    sum += Math.exp(-0.5 * (((j - middle) * pitchMm) / sigmaMm) ** 2) ** lineExponent;
  }
  return gain * sum ** (1 / lineExponent);
}
