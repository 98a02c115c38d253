/**
 * The focused beam: spot diameter, depth of focus, lens aberration. Diameters are 1/e² irradiance
 * diameters. Lengths are mm. Arguments are positive unless stated otherwise.
 */

/** A beam and the lens that focuses it. */
export interface FocusedBeam {
  /** Beam propagation ratio M² (ISO 11146-1), 1 or more. */
  propagationRatio: number;
  wavelengthMm: number;
  focalLengthMm: number;
  /** 1/e² diameter of the beam entering the lens. */
  inputDiameterMm: number;
}

/**
 * Spot diameter in mm of a collimated beam at the focus of a thin lens, far-field limit:
 * d = 4 M² λ f / (π D).
 * Source: Siegman, *Lasers* (1986), ch. 17; Self, "Focusing of spherical Gaussian beams", Appl. Opt. 22, 658 (1983).
 */
export function focusedDiameterMm(beam: FocusedBeam): number {
  return (
    (4 * beam.propagationRatio * beam.wavelengthMm * beam.focalLengthMm) / (Math.PI * beam.inputDiameterMm)
  );
}

/**
 * The same without the far-field limit, for a waist of diameter D at the lens:
 * d = D·r/√(1+r²) with r = f/z_R of the input beam. Always smaller than `focusedDiameterMm`.
 * Source: Siegman, *Lasers* (1986), ch. 17 (ray matrices applied to a Gaussian beam).
 */
export function finiteFocusedDiameterMm(beam: FocusedBeam): number {
  const inputRayleighRangeMm = rayleighRangeMm(
    beam.inputDiameterMm,
    beam.propagationRatio,
    beam.wavelengthMm,
  );
  const ratio = beam.focalLengthMm / inputRayleighRangeMm;
  return (beam.inputDiameterMm * ratio) / Math.hypot(1, ratio);
}

/**
 * Rayleigh range in mm, the distance from the waist at which the diameter has grown by √2:
 * z_R = π d² / (4 M² λ). Source: ISO 11146-1.
 */
export function rayleighRangeMm(
  waistDiameterMm: number,
  propagationRatio: number,
  wavelengthMm: number,
): number {
  return (Math.PI * waistDiameterMm ** 2) / (4 * propagationRatio * wavelengthMm);
}

/**
 * Spot diameter in mm at a distance z (any sign) from the waist: d(z) = d0·√(1 + (z/z_R)²).
 * Source: ISO 11146-1.
 */
export function defocusedDiameterMm(waistDiameterMm: number, rangeMm: number, defocusMm: number): number {
  return waistDiameterMm * Math.hypot(1, defocusMm / rangeMm);
}

/**
 * Full depth in mm, both sides of the waist together, over which the diameter stays within
 * (1 + growth) of the waist: 2 z_R √((1+growth)² − 1). Growth 0.05 means 5 %. The accepted growth
 * is common practice, no source.
 */
export function depthOfFocusMm(rangeMm: number, growth: number): number {
  return 2 * rangeMm * Math.sqrt((1 + growth) ** 2 - 1);
}

/**
 * Beam propagation ratio M² from the waist diameter and the full divergence angle of a measured caustic:
 * M² = π d0 Θ / (4 λ). Source: ISO 11146-1.
 */
export function propagationRatioFromCaustic(
  waistDiameterMm: number,
  fullDivergenceRad: number,
  wavelengthMm: number,
): number {
  return (Math.PI * waistDiameterMm * fullDivergenceRad) / (4 * wavelengthMm);
}

/**
 * Fraction 0..1 of a Gaussian beam's power inside a circle: 1 − exp(−8 r²/d²); 0.865 at r = d/2.
 * Source: Siegman, *Lasers* (1986), ch. 17.
 */
export function encircledPower(radiusMm: number, spotDiameterMm: number): number {
  return -Math.expm1(-8 * (radiusMm / spotDiameterMm) ** 2);
}

/** One term of a Sellmeier formula: strength A, resonance B in µm. */
export interface SellmeierTerm {
  strength: number;
  resonanceUm: number;
}

/** Zinc selenide, the usual lens of a 10.6 µm beam. Source: Tatian, Appl. Opt. 23, 4477 (1984). */
export const ZINC_SELENIDE: readonly SellmeierTerm[] = [
  { strength: 4.45813734, resonanceUm: 0.200859853 },
  { strength: 0.467216334, resonanceUm: 0.391371166 },
  { strength: 2.8956629, resonanceUm: 47.1362108 },
];

/**
 * Refractive index from a Sellmeier formula: n² = 1 + Σ A λ²/(λ² − B²), wavelength in µm.
 * Source: Sellmeier, Ann. Phys. 219, 272 (1871).
 */
export function refractiveIndex(wavelengthUm: number, terms: readonly SellmeierTerm[]): number {
  const square = wavelengthUm ** 2;
  let indexSquared = 1;
  for (const { strength, resonanceUm } of terms) {
    indexSquared += (strength * square) / (square - resonanceUm ** 2);
  }
  return Math.sqrt(indexSquared);
}

/**
 * Spherical aberration coefficient k of a thin lens for a collimated input (dimensionless, see
 * `aberrationBlurMm`): k = [(n+2)/(n−1) q² − 4(n+1)q + (3n+2)(n−1) + n³/(n−1)] / [128 n(n−1)].
 * Third-order theory; a traced lens blurs some 2 % more at f/3.
 * Source: Jenkins & White, *Fundamentals of Optics*; Smith, *Modern Optical Engineering* (position factor −1).
 *
 * @param index refractive index n > 1
 * @param shapeFactor Coddington shape factor q: 1 plano-convex with the curved side to the beam, −1 reversed
 */
export function aberrationCoefficient(index: number, shapeFactor: number): number {
  const excess = index - 1;
  const bending = ((index + 2) / excess) * shapeFactor ** 2 - 4 * (index + 1) * shapeFactor;
  const unbent = (3 * index + 2) * excess + index ** 3 / excess;
  return (bending + unbent) / (128 * index * excess);
}

/**
 * Coddington shape factor of the lens with the smallest spherical aberration for a collimated input:
 * q = 2(n²−1)/(n+2). Above 1 the lens is a meniscus. Source: as `aberrationCoefficient`.
 */
export function bestFormShapeFactor(index: number): number {
  return (2 * (index ** 2 - 1)) / (index + 2);
}

/**
 * Diameter in mm of the circle of least confusion from spherical aberration: k D³/f².
 * Adding it to the diffraction diameter is a cautious upper estimate (common practice, no source).
 */
export function aberrationBlurMm(
  coefficient: number,
  inputDiameterMm: number,
  focalLengthMm: number,
): number {
  return (coefficient * inputDiameterMm ** 3) / focalLengthMm ** 2;
}

/**
 * Input diameter in mm that minimises `focusedDiameterMm` + `aberrationBlurMm`:
 * D⁴ = 4 M² λ f³ / (3 π k). The blur is then a third of the diffraction diameter (calculus).
 */
export function bestInputDiameterMm(lens: Omit<FocusedBeam, "inputDiameterMm">, coefficient: number): number {
  const numerator = 4 * lens.propagationRatio * lens.wavelengthMm * lens.focalLengthMm ** 3;
  return (numerator / (3 * Math.PI * coefficient)) ** 0.25;
}
