import type { MarkedCard } from "../../7-card/recipe.js";

/** Middles of the patches of a card as shares of its sides, −1 to 1. */
export const patchPlaces = ({ patches, widthMm, heightMm }: MarkedCard) =>
  patches.map((patch) => ({
    x: (2 * patch.leftMm + patch.widthMm) / widthMm - 1,
    y: (2 * patch.topMm + patch.heightMm) / heightMm - 1,
  }));
