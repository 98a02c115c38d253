import type { CardRecipe } from "../../src/7-card/recipe.js";
import { askReference } from "./reference.js";
import { hasTool } from "./tool.js";

/** Whether tests/reference/vision.py can run here. */
export const hasVision = hasTool("/usr/bin/python3", ["-c", "import cv2, numpy"]);

type Place = readonly [x: number, y: number];

/** Corners of a card, clockwise from the upper left. */
export const cornersOf = ({ widthMm, heightMm }: CardRecipe): Place[] => [
  [0, 0],
  [widthMm, 0],
  [widthMm, heightMm],
  [0, heightMm],
];

/** Where the corners of a card lie in a picture, in pixels, by a vision library that knows its code and its solid patches alone. */
export function seenByVision(picture: Buffer, recipe: CardRecipe): readonly Place[] {
  const { leftMm, topMm, widthMm, heightMm } = recipe.codePlace;
  const codeCorners = cornersOf({ ...recipe, widthMm, heightMm }).map(([x, y]) => [leftMm + x, topMm + y]);
  const solid = recipe.patches.filter(({ pattern }) => pattern === "solid");
  const { corners } = askReference<{ corners: Place[] }>("vision.py", {
    picture: picture.toString("base64"),
    codeCorners,
    patches: solid.map((patch) => [patch.leftMm + patch.widthMm / 2, patch.topMm + patch.heightMm / 2]),
    patchMm: solid[0].widthMm,
    corners: cornersOf(recipe),
  });
  return corners;
}
