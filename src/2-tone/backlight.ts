/** A light or dark part counts from the first share of the picture on, and in full from the second. */
const DARK_SHARE = [0.12, 0.35] as const;
const LIGHT_SHARE = [0.2, 0.4] as const;

/** A picture with middle tones is lit evenly: above the first share they weaken the lift, and from the second they prevent it. */
const MIDDLE_SHARE = [0.15, 0.3] as const;

/**
 * L* of surroundings: dark ones that may hold a face, light ones, and middle ones in between. What is darker is black by nature,
 * or a silhouette: lifting it would show noise.
 */
const BLACK_TO_DARK = [5, 14] as const;
const DARK_TO_MIDDLE = [22, 38] as const;
const MIDDLE_TO_LIGHT = [58, 72] as const;

/** A weaker sign is none, so that a well exposed picture stays as it is. */
const MIN_SIGN = 0.1;

/** A stronger lift is for the user to choose. */
const MAX_AUTOMATIC = 0.8;

/**
 * Strength of the lift that a picture seems to need, 0..1: for a large dark part before a large light one, with little in between,
 * as a camera sees a person before a bright sea. It is continuous in the picture. Ours, and set to be 0 on well exposed
 * pictures: those of `sample-images/`, night scenes, low-key pictures, dark fur on grass.
 *
 * @param base L* of the surroundings
 * @param weights of the points
 */
export function automaticLift(base: Float32Array, weights: Float32Array): number {
  let [total, dark, middle, light] = [0, 0, 0, 0];
  base.forEach((lightness, i) => {
    const notBlack = ramp(lightness, BLACK_TO_DARK);
    const notDark = ramp(lightness, DARK_TO_MIDDLE);
    const isLight = ramp(lightness, MIDDLE_TO_LIGHT);
    total += weights[i];
    dark += weights[i] * notBlack * (1 - notDark);
    middle += weights[i] * notDark * (1 - isLight);
    light += weights[i] * isLight;
  });
  if (total === 0) return 0;
  const sign =
    ramp(dark / total, DARK_SHARE) *
    ramp(light / total, LIGHT_SHARE) *
    (1 - ramp(middle / total, MIDDLE_SHARE));
  return (MAX_AUTOMATIC * Math.max(0, sign - MIN_SIGN)) / (1 - MIN_SIGN);
}

/** From 0 to 1 between two values. */
const ramp = (value: number, [from, to]: readonly [from: number, to: number]): number =>
  Math.min(1, Math.max(0, (value - from) / (to - from)));
