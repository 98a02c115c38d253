import type { SearchAim } from "./search-plan.js";

/** A pass over a piece. */
export interface Pass {
  /** The piece is seen from so many times nearer than it will be. */
  readonly nearness: number;
  /** Visits of each pixel. */
  readonly sweeps: number;
}

/**
 * A search that sees the piece from its viewing distance at once stops early: to an eye that blurs over many pixels most
 * arrangements of dots are nearly alike, and it takes the first. From near by, dots have to spread evenly; then the eye steps back.
 * That is graduated optimisation (A. Blake, A. Zisserman, "Visual Reconstruction", 1987; from memory). At 508 lines per inch it
 * lowers the nominal error by 14 to 31 %, and the error from nearer too. A step forward and back again lowers it a little more.
 *
 * The robust aim needs dots that hang together, which an eye from very near would part.
 */
const NEARNESS = {
  nominal: [3, 2, 1.4, 1, 1.4, 1],
  robust: [1.4, 1.4, 1.2, 1, 1],
} as const;
/** With a time limit a search comes to a result first, and to a better one if time is left. */
const WITH_LIMIT = {
  nominal: [1.4, 1, 2, 1.4, 1],
  robust: [1.4, 1, 1.4, 1.2, 1],
} as const;
/** From a given bitmap it starts at the viewing distance: each pass lowers the error. */
const ONWARD = [1, 1, 1, 1] as const;

const SWEEPS = { nominal: 2, robust: 3 } as const;

/** An eye whose blur is narrower than two pixels sees grain that no arrangement hides. */
const NARROWEST_EYE_PX = 2;

export interface PassWishes {
  readonly aim: SearchAim;
  /** Whether the search goes on from a given bitmap. */
  readonly onward: boolean;
  readonly hasLimit: boolean;
}

/** @param eyeWidthPx of the eye's kernel at the viewing distance */
export function passesOf({ aim, onward, hasLimit }: PassWishes, eyeWidthPx: number): Pass[] {
  const nearest = Math.max(1, eyeWidthPx / NARROWEST_EYE_PX);
  const nearness = onward ? ONWARD : (hasLimit ? WITH_LIMIT : NEARNESS)[aim];
  return nearness.map((asked, k) => ({
    nearness: Math.min(asked, nearest),
    sweeps: hasLimit && k === 0 ? 1 : SWEEPS[aim],
  }));
}
