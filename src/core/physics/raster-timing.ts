/**
 * Run time of a raster at constant acceleration, with the run-up outside the picture.
 * Lengths mm, speeds mm/s, accelerations mm/s², times s. Source: constant-acceleration kinematics.
 */

import { secondsFromMicroseconds } from "../units.js";

/** A full rectangle of scan lines. */
export interface RasterJob {
  widthMm: number;
  lines: number;
  speedMmPerS: number;
  accelerationMmPerS2: number;
  /** Time of one line step that is not hidden in the reversal, 0 if it is. */
  stepTimeS: number;
}

/** Run-up on each side of a line, from rest to the scan speed: v²/(2a). */
export function runUpMm(speedMmPerS: number, accelerationMmPerS2: number): number {
  return speedMmPerS ** 2 / (2 * accelerationMmPerS2);
}

/** Time of one line with run-up and run-out: span/v + 2v/a. */
export function lineTimeS(spanMm: number, speedMmPerS: number, accelerationMmPerS2: number): number {
  return spanMm / speedMmPerS + (2 * speedMmPerS) / accelerationMmPerS2;
}

/**
 * Time of a move from rest to rest: s/v + v/a if the top speed v is reached (s ≥ v²/a), else 2√(s/a).
 * Without a top speed it is the time of a short step.
 */
export function moveTimeS(
  distanceMm: number,
  accelerationMmPerS2: number,
  topSpeedMmPerS = Number.POSITIVE_INFINITY,
): number {
  if (distanceMm < topSpeedMmPerS ** 2 / accelerationMmPerS2) {
    return 2 * Math.sqrt(distanceMm / accelerationMmPerS2);
  }
  return distanceMm / topSpeedMmPerS + topSpeedMmPerS / accelerationMmPerS2;
}

/** Time of a job that burns in both directions: N·(W/v + 2v/a) + (N − 1)·step. */
export function twoWayJobTimeS(job: RasterJob): number {
  return job.lines * jobLineTimeS(job) + (job.lines - 1) * job.stepTimeS;
}

/**
 * Time of a job that burns in one direction: each line adds the return over the width and both run-ups,
 * W + v²/a, at the rapid speed.
 */
export function oneWayJobTimeS(job: RasterJob, rapidSpeedMmPerS: number): number {
  const returnMm = job.widthMm + 2 * runUpMm(job.speedMmPerS, job.accelerationMmPerS2);
  const returnTimeS = moveTimeS(returnMm, job.accelerationMmPerS2, rapidSpeedMmPerS);
  return job.lines * (jobLineTimeS(job) + returnTimeS) + (job.lines - 1) * job.stepTimeS;
}

/** Scan speed with the shortest line time, √(aW/2). Above it a faster setting makes the job slower. */
export function speedOfMinLineTimeMmPerS(widthMm: number, accelerationMmPerS2: number): number {
  return Math.sqrt((accelerationMmPerS2 * widthMm) / 2);
}

/** Line time at that speed: 2√(2W/a). */
export function minLineTimeS(widthMm: number, accelerationMmPerS2: number): number {
  return 2 * Math.sqrt((2 * widthMm) / accelerationMmPerS2);
}

/** Rate in Hz at which pixels follow each other: v/pitch. */
export function pixelRateHz(speedMmPerS: number, pitchAlongMm: number): number {
  return speedMmPerS / pitchAlongMm;
}

/** Shift in mm between lines of opposite direction if the source reacts late: 2·v·delay. */
export function twoWayShiftMm(speedMmPerS: number, delayUs: number): number {
  return 2 * speedMmPerS * secondsFromMicroseconds(delayUs);
}

function jobLineTimeS(job: RasterJob): number {
  return lineTimeS(job.widthMm, job.speedMmPerS, job.accelerationMmPerS2);
}
