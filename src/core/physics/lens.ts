import type { Spot } from "../spot.js";
import {
  aberrationBlurMm,
  aberrationCoefficient,
  bestFormShapeFactor,
  defocusedDiameterMm,
  depthOfFocusMm,
  focusedDiameterMm,
  rayleighRangeMm,
  refractiveIndex,
  ZINC_SELENIDE,
} from "./optics.js";

/** Lens shapes, which differ in spherical aberration; `ideal` has none. */
export const lensShapes = ["ideal", "best-form", "plano-convex", "plano-convex-reversed"] as const;

/** One of `lensShapes`. */
export type LensShape = (typeof lensShapes)[number];

/** A collimated beam, the lens that focuses it, and the distance of the work from the focus. Lengths in mm. */
export interface LensSetup {
  readonly wavelengthMm: number;
  readonly focalLengthMm: number;
  /** 1/e² diameter of the beam that enters the lens. */
  readonly beamDiameterMm: number;
  /** Beam propagation ratio M² (ISO 11146-1), 1 or more. */
  readonly propagationRatio: number;
  readonly shape: LensShape;
  /** Refractive index of the lens. Default: `usualIndex` of the wavelength. */
  readonly index?: number | undefined;
  readonly defocusMm: number;
}

/** The spot of a lens and its components. */
export interface LensSpot {
  /** 1/e² diameter on the work: focus, aberration and defocus together. */
  readonly spotMm: number;
  /** Diameter from diffraction alone. */
  readonly focusMm: number;
  readonly aberrationMm: number;
  /** Full depth over which defocus widens the spot by no more than 5 %. */
  readonly depthOfFocusMm: number;
}

/** From this wavelength, in mm, the usual lens is zinc selenide: glass does not transmit there. */
const INFRARED_MM = 0.003;

/** Index of common optical glass in the visible and near infrared; from memory, no source. */
const GLASS_INDEX = 1.5;

const GROWTH_IN_FOCUS = 0.05;

/**
 * Spot of a lens: the far-field focus 4M²λf/(πD), widened by defocus along its hyperbola, plus the circle of least confusion
 * from spherical aberration. Their plain sum is a cautious upper estimate (common practice, no source).
 * Sources: as `focusedDiameterMm`, `defocusedDiameterMm`, `aberrationCoefficient`.
 */
export function spotOfLens(lens: LensSetup): LensSpot {
  const { wavelengthMm, focalLengthMm, beamDiameterMm, propagationRatio, shape } = lens;
  const focusMm = focusedDiameterMm({
    propagationRatio,
    wavelengthMm,
    focalLengthMm,
    inputDiameterMm: beamDiameterMm,
  });
  const rangeMm = rayleighRangeMm(focusMm, propagationRatio, wavelengthMm);
  const index = lens.index ?? usualIndex(wavelengthMm);
  const aberrationMm =
    shape === "ideal"
      ? 0
      : aberrationBlurMm(
          aberrationCoefficient(index, shapeFactor(shape, index)),
          beamDiameterMm,
          focalLengthMm,
        );
  return {
    spotMm: defocusedDiameterMm(focusMm, rangeMm, lens.defocusMm) + aberrationMm,
    focusMm,
    aberrationMm,
    depthOfFocusMm: depthOfFocusMm(rangeMm, GROWTH_IN_FOCUS),
  };
}

/** A beam at some distance from its focus. */
export type Defocus = Pick<LensSetup, "wavelengthMm" | "propagationRatio" | "defocusMm">;

/**
 * A spot measured at the focus, at a distance from it. Along and across widen each by its own Rayleigh range.
 * Sources: as `rayleighRangeMm`, `defocusedDiameterMm`.
 */
export function defocusedSpot({ alongMm, acrossMm }: Spot, beam: Defocus): Spot {
  const { wavelengthMm, propagationRatio, defocusMm } = beam;
  const widened = (focusMm: number): number =>
    defocusedDiameterMm(focusMm, rayleighRangeMm(focusMm, propagationRatio, wavelengthMm), defocusMm);
  return { alongMm: widened(alongMm), acrossMm: widened(acrossMm) };
}

/** Zinc selenide in the far infrared, common glass below. */
export function usualIndex(wavelengthMm: number): number {
  return wavelengthMm < INFRARED_MM ? GLASS_INDEX : refractiveIndex(wavelengthMm * 1000, ZINC_SELENIDE);
}

function shapeFactor(shape: Exclude<LensShape, "ideal">, index: number): number {
  if (shape === "best-form") return bestFormShapeFactor(index);
  return shape === "plano-convex" ? 1 : -1;
}
