import type { Reader } from "../../core/reader.js";
import { lengthNumber, lengthWords } from "../../core/shown-units.js";
import { densityWords, mmWords, percentWords } from "../../core/words.js";
import type { Plan, PlannedLens } from "../plan.js";
import { paceWithAdvice, spotAdvice } from "./pace-words.js";

/** The job, in one line. */
export function jobWords({ job, units }: Plan, reader: Reader): string {
  const size = `${lengthNumber(job.widthMm, units)} × ${lengthWords(job.heightMm, units)} of ${job.material}`;
  const passes = job.passes > 1 ? `, ${job.passes} passes` : "";
  return `${workWords(job)}, ${size}; ${paceWithAdvice(job, { ...reader, units })}${passes}${limitWords(job.limits)}`;
}

function workWords({ kind, photo, limits }: Plan["job"]): string {
  if (kind === "photo") return photo === "" ? "photo (built-in picture)" : `photo ${photo}`;
  if (kind === "strip") return "strip a coating";
  return `shade to L* ${limits.lightness?.toFixed(0)} (${percentWords(limits.darkness ?? 0)} of the way to full tone)`;
}

function limitWords({ minutes, tones, margin }: Plan["job"]["limits"]): string {
  return [
    minutes === undefined ? "" : `no more than ${minutes} min`,
    tones === undefined ? "" : `at least ${tones.count} tones in ${tones.detailMm} mm`,
    margin === undefined ? "" : `${percentWords(margin)} overlap`,
  ]
    .filter(Boolean)
    .map((words) => `; ${words}`)
    .join("");
}

/** A spot, its parts if it was computed, and its matched density; the text follows the word "spot". */
export function lensWords(lens: PlannedLens, { job }: Plan, reader: Reader): string {
  const { name, spotAlongMm, spotAcrossMm, matchedLinesPerInch, optics } = lens;
  const matched = `matched ${densityWords(Math.round(matchedLinesPerInch))} lines per inch`;
  if (!optics) return `${name.replace(/^spot /, "")}${spotAdvice(job, reader)}, ${matched}`;
  const size =
    spotAlongMm === spotAcrossMm
      ? mmWords(spotAcrossMm)
      : `${mmWords(spotAlongMm)} × ${mmWords(spotAcrossMm)}`;
  const { focusMm, aberrationMm, depthOfFocusMm } = optics;
  const made =
    aberrationMm > 0 ? ` (${mmWords(focusMm)} by diffraction, ${mmWords(aberrationMm)} of aberration)` : "";
  return `${name}: ${size}${made}, within 5 % over ${mmWords(depthOfFocusMm)} of depth; ${matched}`;
}

/** A note to read before the piece is prepared. */
export const nextNote = ({ job, recommended }: Plan): string | undefined =>
  job.kind === "photo"
    ? undefined
    : `Set the power named here: a report of the prepared piece names the power for full tone${job.kind === "shade" ? "" : ` at ${densityWords(recommended.linesPerInch)} lines per inch`}.`;
