import type { PatchLuminance } from "./patch-luminance.js";

/** What several pictures of one card say together. */
export interface JoinedReadings {
  /** By patch of the recipe: luminance as a share of the bare surface's. */
  readonly overBare: Float64Array;
  /** By patch: 1 if a picture shows it as it is, 0 if it is spoilt in all of them. */
  readonly usable: Uint8Array;
}

/** Means in logarithms, because light and exposure multiply, over the pictures in which a patch is not spoilt. */
export function joinedReadings(
  readings: readonly Pick<PatchLuminance, "overBare" | "usable">[],
): JoinedReadings {
  const usable = readings[0].usable.map((_, k) => (readings.some((each) => each.usable[k]) ? 1 : 0));
  const overBare = readings[0].overBare.map((_, k) => {
    const those = usable[k] ? readings.filter((each) => each.usable[k]) : readings;
    return Math.exp(those.reduce((sum, each) => sum + Math.log(each.overBare[k]), 0) / those.length);
  });
  return { overBare, usable };
}
