import { type ExposureBlur, exposureModulation, nyquistPerMm } from "../../core/physics/modulation.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { densityWords, mmWords, percentWords, wholePercent } from "../../core/words.js";
import type { Report } from "../report.js";

/** The limit of the finest detail, and how to change it. */
export const limitWords: Readonly<Record<Report["detail"]["limitedBy"], string>> = {
  photo: "the photo is the limit: a larger one or a smaller piece would show more",
  pitch: "the pitch is the limit: more lines per inch would show more",
  spot: "the spot is the limit: only a smaller one would show more",
  firing: "the firing lag is the limit: a slower scan would show more",
};

/** The effect of a firing loss along a line. */
export function lossWords(firingLossMm: number): string {
  const length = mmWords(Math.abs(firingLossMm));
  return firingLossMm > 0
    ? `every burst is ${length} shorter, and one of up to ${length} leaves no mark`
    : `every burst is ${length} longer, and a gap of up to ${length} closes`;
}

/** Lines per inch; both values if the pixels along are different. */
export function densitiesWords({ linesPerInch, pitchAlongMm, pitchAcrossMm }: Report["job"]): string {
  if (pitchAlongMm === pitchAcrossMm) return densityWords(linesPerInch);
  return `${densityWords(linesPerInchFromPitchMm(pitchAlongMm))} (along) × ${densityWords(linesPerInch)}`;
}

/** The pitch along. On a round piece it has all digits, because columns close only at the exact pitch. */
export const alongWords = ({ pitchAlongMm, around }: Report["job"]): string =>
  around ? `${Number(pitchAlongMm.toPrecision(5))} mm` : mmWords(pitchAlongMm);

/** A diameter, or the one along and the one across: `0.08 × 0.15 mm`. Beside the focus also the spot at the focus. */
export function spotWords({ spotAlongMm, spotAcrossMm, outOfFocus }: Report["job"]): string {
  const spot = diameterWords(spotAlongMm, spotAcrossMm);
  if (!outOfFocus) return spot;
  const { defocusMm, focusSpotAlongMm, focusSpotAcrossMm } = outOfFocus;
  return `${spot} (${diameterWords(focusSpotAlongMm, focusSpotAcrossMm)} at the focus, which is ${mmWords(Math.abs(defocusMm))} away)`;
}

function diameterWords(alongMm: number, acrossMm: number): string {
  const along = Number(alongMm.toPrecision(3));
  return along === Number(acrossMm.toPrecision(3)) ? mmWords(along) : `${along} × ${mmWords(acrossMm)}`;
}

/** The size of the picture; a placed one may have a larger bitmap. */
export const pictureSize = ({ widthMm, heightMm, around }: Report["job"]) =>
  around?.placed
    ? { widthMm: around.placed.pictureWidthMm, heightMm: around.placed.pictureHeightMm }
    : { widthMm, heightMm };

/** Contrast limits in line pairs per mm. If the pitch ends the detail before a limit, more contrast is left there. */
export function contrastWords(
  { at50, at10 }: Report["detail"]["acrossLpPerMm"],
  blur: ExposureBlur,
  pitchMm: number,
): string {
  const end = nyquistPerMm(pitchMm);
  const atEnd = `${end.toFixed(1)}, where the pitch ends it with ${percentWords(Number(exposureModulation(end, blur).toFixed(2)))} left`;
  if (at50 >= end) return atEnd;
  const half = `${at50.toFixed(1)} at half the contrast`;
  return at10 >= end ? `${half} and ${atEnd}` : `${half} and ${at10.toFixed(1)} at a tenth`;
}

/** A larger share counts as the whole photo: rounding to whole pixels cuts off a little. */
const AS_GOOD_AS_WHOLE = 0.99;

/** Share of the photo on the piece, if a part was cut off to fit: `48 %`. */
export const shownWords = ({ shownShare }: Report["input"]): string | undefined =>
  shownShare < AS_GOOD_AS_WHOLE ? wholePercent(shownShare) : undefined;
