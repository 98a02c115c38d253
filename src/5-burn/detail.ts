import {
  type ExposureBlur,
  exposureBlurs,
  exposureLimitPerMm,
  nyquistPerMm,
  spotLimitPerMm,
} from "../core/physics/modulation.js";
import type { Pitch } from "../core/plane.js";
import { type BeamMotion, lagLengthMm, lossLengthMm, type Spot } from "../core/spot.js";

/** Line pairs per mm with half, and with a tenth, of the modulation left. */
export interface DetailLimit {
  readonly at50: number;
  readonly at10: number;
}

/** Finest detail on the piece, and its limit. */
export interface Detail {
  readonly alongLpPerMm: DetailLimit;
  readonly acrossLpPerMm: DetailLimit;
  /** Finest detail in the photo itself: source pixels per mm / 2. */
  readonly photoLpPerMm: number;
  /**
   * The tightest limit. "photo" if its detail ends before the frequency with a tenth of the modulation left; "firing" if it limits
   * the detail along the lines and is below both.
   */
  readonly limitedBy: "spot" | "photo" | "pitch" | "firing";
  readonly alongLimits: AlongLimits;
}

/**
 * Line pairs per mm along the scan line with half of the modulation left, for the spot alone and for the firing lag alone, and the
 * limit of the pitch. The limit for a tenth, where lines vanish, would make a lag look too good, because it fades slowly.
 */
export interface AlongLimits {
  readonly spotLpPerMm: number;
  readonly pitchLpPerMm: number;
  /** Absent without a lag. */
  readonly firingLpPerMm?: number;
  /** The smallest of the three. */
  readonly limitedBy: "spot" | "pitch" | "firing";
  /** Up to this scan speed firing is not the limit. Absent without a lag. */
  readonly firingFreeUpToMmPerS?: number;
  /**
   * Length that every burst loses at its start, in mm: a burst no longer than that leaves no mark. Negative: every burst is longer
   * at its end, and a gap no longer than that closes. Absent without a firing loss.
   */
  readonly firingLossMm?: number;
}

/**
 * Detail limits of section 8: exposure modulation along (spot × pixel hold × firing lag) and across (spot), capped by the
 * Nyquist limit of the pitch. A firing loss has no frequency response: it makes bursts shorter, and is stated as a length.
 *
 * @param sourcePxPerMm pixels of the photo per mm of work, above 0
 */
export function detailLimits(pitch: Pitch, spot: Spot, motion: BeamMotion, sourcePxPerMm: number): Detail {
  const { along, across } = exposureBlurs(pitch, spot, motion);
  const limit = (blur: ExposureBlur, pitchMm: number): DetailLimit => ({
    at50: Math.min(exposureLimitPerMm(blur, 0.5), nyquistPerMm(pitchMm)),
    at10: Math.min(exposureLimitPerMm(blur, 0.1), nyquistPerMm(pitchMm)),
  });
  const arrives = { along: limit(along, pitch.alongMm), across: limit(across, pitch.acrossMm) };
  const photoLpPerMm = sourcePxPerMm / 2;
  const ownAlong = alongLimits(pitch, spot, motion);
  return {
    alongLpPerMm: arrives.along,
    acrossLpPerMm: arrives.across,
    photoLpPerMm,
    limitedBy: limitOf(arrives, photoLpPerMm, ownAlong, pitch),
    alongLimits: ownAlong,
  };
}

/** The photo if it has less detail than the piece can show; otherwise the limit in the direction with less detail. */
function limitOf(
  { along, across }: Readonly<Record<"along" | "across", DetailLimit>>,
  photoLpPerMm: number,
  { limitedBy, firingLpPerMm = Number.POSITIVE_INFINITY }: AlongLimits,
  pitch: Pitch,
): Detail["limitedBy"] {
  if (limitedBy === "firing" && firingLpPerMm < Math.min(photoLpPerMm, across.at10)) return "firing";
  const [carried, pitchMm] =
    along.at10 < across.at10 ? [along.at10, pitch.alongMm] : [across.at10, pitch.acrossMm];
  // With equal limits, more lines would show no more detail.
  if (photoLpPerMm <= carried * (1 + 1e-9)) return "photo";
  return carried >= nyquistPerMm(pitchMm) ? "pitch" : "spot";
}

function alongLimits(pitch: Pitch, spot: Spot, motion: BeamMotion): AlongLimits {
  const spotLpPerMm = spotLimitPerMm(spot.alongMm, 0.5);
  const pitchLpPerMm = nyquistPerMm(pitch.alongMm);
  const firingLpPerMm = firingLimitPerMm(motion);
  const others = Math.min(spotLpPerMm, pitchLpPerMm);
  const limits = {
    spotLpPerMm,
    pitchLpPerMm,
    limitedBy: firingLpPerMm < others ? "firing" : pitchLpPerMm < spotLpPerMm ? "pitch" : "spot",
    ...(motion.firingLossUs !== 0 && { firingLossMm: lossLengthMm(motion) }),
  } as const;
  if (firingLpPerMm === Number.POSITIVE_INFINITY) return limits;
  // The lag's limit is inversely proportional to the speed.
  return { ...limits, firingLpPerMm, firingFreeUpToMmPerS: (motion.speedMmPerS * firingLpPerMm) / others };
}

/** Frequency with half of the modulation left by the firing lag alone: √3 / (2π v τ). */
function firingLimitPerMm(motion: BeamMotion): number {
  const lagMm = lagLengthMm(motion);
  return lagMm === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(3) / (2 * Math.PI * lagMm);
}
