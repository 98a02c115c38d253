import { linesPerInchFromPitchMm } from "../core/units.js";
import { densityWords, mmWords } from "../core/words.js";
import type { Report } from "./report.js";

/** What sets the finest detail, and what would change it. */
export const limitWords: Readonly<Record<Report["detail"]["limitedBy"], string>> = {
  photo: "the photo is the limit: a larger one or a smaller piece would show more",
  pitch: "the pitch is the limit: more lines per inch would show more",
  spot: "the spot is the limit: only a smaller one would show more",
  firing: "the firing lag is the limit: a slower scan would show more",
};

/** The power to set, as far as it follows from the density. */
export function powerWords({ coverage, job }: Report, referencePitchMm: number | undefined): string {
  if (referencePitchMm === undefined) {
    return `set so that a solid fill at this density reaches full tone; ${job.material} names no reference density`;
  }
  const reference = densityWords(linesPerInchFromPitchMm(referencePitchMm));
  return `${coverage.powerFactor.toFixed(2)} × the power right for a solid fill at ${reference} lines per inch (or ${coverage.solidDoseFactor.toFixed(2)} × its speed)`;
}

/** Lines per inch; where the pixels along are others, both. */
export function densitiesWords({ linesPerInch, pitchAlongMm, pitchAcrossMm }: Report["job"]): string {
  if (pitchAlongMm === pitchAcrossMm) return densityWords(linesPerInch);
  return `${densityWords(linesPerInchFromPitchMm(pitchAlongMm))} (along) × ${densityWords(linesPerInch)}`;
}

/** A diameter, or the one along and the one across: `0.08 × 0.15 mm`. */
export function spotWords({ spotAlongMm, spotAcrossMm }: Report["job"]): string {
  const along = Number(spotAlongMm.toPrecision(3));
  return along === Number(spotAcrossMm.toPrecision(3))
    ? mmWords(along)
    : `${along} × ${mmWords(spotAcrossMm)}`;
}

/** To a hundredth of a mm, and three digits below 1 mm: `80 × 53.35 mm`. */
export function sizeWords({ widthMm, heightMm }: Pick<Report["job"], "widthMm" | "heightMm">): string {
  const length = (mm: number): string => String(Number(mm < 1 ? mm.toPrecision(3) : mm.toFixed(2)));
  return `${length(widthMm)} × ${length(heightMm)} mm`;
}
