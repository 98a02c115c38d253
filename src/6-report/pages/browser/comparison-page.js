/*
 * What a comparison's page does where it is looked at: the zoom that all pictures share, the slider between two candidates, and
 * their order. Nothing is fetched and nothing kept.
 */
import { findParts } from "./comparison-parts.js";
import { startOrder } from "./order.js";
import { all } from "./page-parts.js";
import { startPair } from "./pair.js";
import { createSharedView } from "./shared-view.js";
import { zoomByKeys, zoomByTools } from "./view-controls.js";
import { moveByPointers, zoomByWheel } from "./view-pointers.js";

document.documentElement.classList.add("live");
const parts = findParts();
const view = createSharedView(parts);
zoomByTools(parts, view);
for (const picture of all(parts.root, ".view", HTMLElement)) {
  const isStage = picture === parts.pair?.stage;
  moveByPointers(picture, view, isStage);
  zoomByWheel(picture, view, isStage);
  zoomByKeys(picture, view);
}
startPair(parts);
startOrder(parts);
view.look();
