/**
 * A resampling filter. `weight` takes the distance from the centre of an output pixel to a sample. Distance and `support` (half
 * the width) are in source pixels for enlargement and in output pixels for reduction. Weights need not sum to 1; `planTaps`
 * normalises them.
 */
export interface FilterDefinition {
  /** Weights are 0 beyond this distance. */
  readonly support: number;
  /** Even function of the distance. */
  readonly weight: (distance: number) => number;
}

/** Names of the resampling filters, from soft to sharp, except the last. */
export const resampleFilters = [
  "box",
  "triangle",
  "catmull-rom",
  "mitchell",
  "lanczos2",
  "lanczos3",
  "gaussian",
] as const;

/** One of `resampleFilters`. */
export type ResampleFilter = (typeof resampleFilters)[number];

/**
 * Lanczos with three lobes, for reduction and enlargement: the sharpest filter, because engraving blurs again.
 * `resampledRows` clamps its overshoot.
 */
export const defaultFilter: ResampleFilter = "lanczos3";

/** Distances are rounded; a sample this close to the edge of the box counts as on the edge. */
const EDGE_TOLERANCE = 1e-9;

/**
 * The mean of an area for reduction by whole factors, the nearest sample for enlargement. A sample on the edge counts half for
 * each neighbour; any other rule would shift the picture or break its symmetry.
 */
function boxWeight(distance: number): number {
  const fromEdge = 0.5 - Math.abs(distance);
  if (Math.abs(fromEdge) <= EDGE_TOLERANCE) return 0.5;
  return fromEdge > 0 ? 1 : 0;
}

function triangleWeight(distance: number): number {
  return Math.max(0, 1 - Math.abs(distance));
}

/** Two-parameter family of piecewise cubics: Mitchell and Netravali (1988), equation 8. */
function cubicWeight(b: number, c: number): (distance: number) => number {
  const near = [6 - 2 * b, -18 + 12 * b + 6 * c, 12 - 9 * b - 6 * c].map((term) => term / 6);
  const far = [8 * b + 24 * c, -12 * b - 48 * c, 6 * b + 30 * c, -b - 6 * c].map((term) => term / 6);
  const [near0 = 0, near2 = 0, near3 = 0] = near;
  const [far0 = 0, far1 = 0, far2 = 0, far3 = 0] = far;
  return (distance) => {
    const x = Math.abs(distance);
    if (x < 1) return near0 + x * x * (near2 + x * near3);
    return x < 2 ? far0 + x * (far1 + x * (far2 + x * far3)) : 0;
  };
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
}

function lanczosWeight(lobes: number): (distance: number) => number {
  return (distance) => (Math.abs(distance) < lobes ? sinc(distance) * sinc(distance / lobes) : 0);
}

/** Standard deviation of the Gaussian, in samples. A smaller value would show the samples as ripple (8e-4 here). */
export const GAUSSIAN_SIGMA = 0.6;
const GAUSSIAN_SUPPORT = 3;

/** A blur for measuring the distance to edges. Cut off at five standard deviations. */
function gaussianWeight(distance: number): number {
  return Math.abs(distance) < GAUSSIAN_SUPPORT ? Math.exp(-0.5 * (distance / GAUSSIAN_SIGMA) ** 2) : 0;
}

/**
 * Sources: K. Turkowski, "Filters for common resampling tasks", in A. S. Glassner (ed.), Graphics Gems, 147-165, Academic Press,
 * 1990 (box, triangle, Gaussian, Lanczos); C. E. Duchon, "Lanczos filtering in one and two dimensions", Journal of Applied
 * Meteorology 18(8), 1016-1022, 1979; D. P. Mitchell and A. N. Netravali, "Reconstruction filters in computer graphics", Computer
 * Graphics 22(4) (SIGGRAPH 88), 221-228, 1988, doi 10.1145/378456.378514 (both cubics); E. Catmull and R. Rom, "A class of local
 * interpolating splines", in Computer Aided Geometric Design, 317-326, Academic Press, 1974.
 */
export const filterDefinitions: Readonly<Record<ResampleFilter, FilterDefinition>> = {
  box: { support: 0.5, weight: boxWeight },
  triangle: { support: 1, weight: triangleWeight },
  "catmull-rom": { support: 2, weight: cubicWeight(0, 1 / 2) },
  mitchell: { support: 2, weight: cubicWeight(1 / 3, 1 / 3) },
  lanczos2: { support: 2, weight: lanczosWeight(2) },
  lanczos3: { support: 3, weight: lanczosWeight(3) },
  gaussian: { support: GAUSSIAN_SUPPORT, weight: gaussianWeight },
};
