import { type ExposureBlur, exposureLimitPerMm, nyquistPerMm, spotLimitPerMm } from "../core/modulation.js";
import type { Pitch } from "../core/plane.js";
import { type BeamMotion, lagLengthMm, type Spot } from "../core/spot.js";

/** Line pairs per mm at which half, and a tenth, of the modulation is left. */
export interface DetailLimit {
  readonly at50: number;
  readonly at10: number;
}

export interface Detail {
  readonly alongLpPerMm: DetailLimit;
  readonly acrossLpPerMm: DetailLimit;
  /** Finest detail in the photo itself: source pixels per mm / 2. */
  readonly photoLpPerMm: number;
  /** What binds first, taking spot and firing where a tenth of the modulation is left. */
  readonly limitedBy: "spot" | "photo" | "pitch" | "firing";
}

/**
 * Detail limits of section 8: exposure modulation along (spot × pixel hold × firing lag) and across (spot), capped by what
 * the pitch can carry.
 *
 * @param sourcePxPerMm pixels of the photo per mm of work
 */
export function detailLimits(pitch: Pitch, spot: Spot, motion: BeamMotion, sourcePxPerMm: number): Detail {
  const along: ExposureBlur = {
    spotDiameterMm: spot.alongMm,
    holdMm: pitch.alongMm,
    speedMmPerS: motion.speedMmPerS,
    lagUs: motion.firingLagUs,
  };
  const across: ExposureBlur = { spotDiameterMm: spot.acrossMm, holdMm: 0, speedMmPerS: 0, lagUs: 0 };
  const limit = (blur: ExposureBlur, pitchMm: number): DetailLimit => ({
    at50: Math.min(exposureLimitPerMm(blur, 0.5), nyquistPerMm(pitchMm)),
    at10: Math.min(exposureLimitPerMm(blur, 0.1), nyquistPerMm(pitchMm)),
  });
  const photoLpPerMm = sourcePxPerMm / 2;
  const binding = [
    ["photo", photoLpPerMm],
    ["pitch", nyquistPerMm(Math.max(pitch.alongMm, pitch.acrossMm))],
    ["spot", spotLimitPerMm(Math.max(spot.alongMm, spot.acrossMm), 0.1)],
    ["firing", firingLimitPerMm(motion)],
  ] as const;
  const least = binding.reduce((a, b) => (b[1] < a[1] ? b : a));
  return {
    alongLpPerMm: limit(along, pitch.alongMm),
    acrossLpPerMm: limit(across, pitch.acrossMm),
    photoLpPerMm,
    limitedBy: least[0],
  };
}

/** Frequency at which the firing lag alone leaves a tenth: √99 / (2π v τ). */
function firingLimitPerMm(motion: BeamMotion): number {
  const lagMm = lagLengthMm(motion);
  return lagMm === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(99) / (2 * Math.PI * lagMm);
}
