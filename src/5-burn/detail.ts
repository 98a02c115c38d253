import {
  type ExposureBlur,
  exposureBlurs,
  exposureLimitPerMm,
  nyquistPerMm,
  spotLimitPerMm,
} from "../core/physics/modulation.js";
import type { Pitch } from "../core/plane.js";
import { type BeamMotion, lagLengthMm, type Spot } from "../core/spot.js";

/** Line pairs per mm at which half, and a tenth, of the modulation is left. */
export interface DetailLimit {
  readonly at50: number;
  readonly at10: number;
}

/** How fine a detail arrives on the piece, and what limits it. */
export interface Detail {
  readonly alongLpPerMm: DetailLimit;
  readonly acrossLpPerMm: DetailLimit;
  /** Finest detail in the photo itself: source pixels per mm / 2. */
  readonly photoLpPerMm: number;
  /**
   * What binds first: the photo where it ends before the tenth that arrives, firing where it is the limit along the lines and
   * leaves half sooner than that.
   */
  readonly limitedBy: "spot" | "photo" | "pitch" | "firing";
  readonly alongLimits: AlongLimits;
}

/**
 * Line pairs per mm along the scan line at which spot and firing lag, each by itself, leave half of the modulation, and the
 * most that the pitch can carry. A lag fades slowly, so that a tenth, where lines vanish, would flatter it.
 */
export interface AlongLimits {
  readonly spotLpPerMm: number;
  readonly pitchLpPerMm: number;
  /** Absent without a lag. */
  readonly firingLpPerMm?: number;
  /** The smallest of the three. */
  readonly limitedBy: "spot" | "pitch" | "firing";
  /** Scan speed up to which firing is not the limit; absent without a lag. */
  readonly firingFreeUpToMmPerS?: number;
}

/**
 * Detail limits of section 8: exposure modulation along (spot × pixel hold × firing lag) and across (spot), capped by what
 * the pitch can carry.
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

/** The photo, where it ends before what arrives; otherwise what binds in the direction that carries less. */
function limitOf(
  { along, across }: Readonly<Record<"along" | "across", DetailLimit>>,
  photoLpPerMm: number,
  { limitedBy, firingLpPerMm = Number.POSITIVE_INFINITY }: AlongLimits,
  pitch: Pitch,
): Detail["limitedBy"] {
  if (limitedBy === "firing" && firingLpPerMm < Math.min(photoLpPerMm, across.at10)) return "firing";
  const [carried, pitchMm] =
    along.at10 < across.at10 ? [along.at10, pitch.alongMm] : [across.at10, pitch.acrossMm];
  // Where both end at the same place, more lines would show nothing more.
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
  } as const;
  if (firingLpPerMm === Number.POSITIVE_INFINITY) return limits;
  // The lag's limit is inversely proportional to the speed.
  return { ...limits, firingLpPerMm, firingFreeUpToMmPerS: (motion.speedMmPerS * firingLpPerMm) / others };
}

/** Frequency at which the firing lag alone leaves half of the modulation: √3 / (2π v τ). */
function firingLimitPerMm(motion: BeamMotion): number {
  const lagMm = lagLengthMm(motion);
  return lagMm === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(3) / (2 * Math.PI * lagMm);
}
