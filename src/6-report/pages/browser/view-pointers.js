import { placeOn } from "./page-parts.js";

/**
 * @typedef {import("./shared-view.js").SharedView} SharedView
 * @typedef {{ x: number, y: number }} Place
 */

/** Movement from which a press is no click, in pixels of the screen. */
const DRAGGED_PX = 6;
/** Wheel movement, in pixels, that zooms by a factor of e; touchpads report pinches as small movements with Ctrl. */
const [WHEEL_PX, PINCH_PX] = [500, 200];
/** Pixels to a line, where a wheel counts lines. */
const LINE_PX = 30;

/** The middle of the fingers, and the distance of the first two. @param {Place[]} points */
function middleOf(points) {
  const mean = (/** @type {"x" | "y"} */ axis) =>
    points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  const apart = points.length > 1 ? Math.hypot(points[0].x - points[1].x, points[0].y - points[1].y) : 0;
  return { x: mean("x"), y: mean("y"), apart };
}

/**
 * Drag to move, pinch to zoom.
 *
 * @param {HTMLElement} picture @param {SharedView} view @param {boolean} isStage: there nothing can be clicked
 */
export function moveByPointers(picture, view, isStage) {
  /** @type {Map<number, Place>} */
  const pressed = new Map();
  let travelledPx = 0;
  picture.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    if (pressed.size === 0) travelledPx = 0;
    pressed.set(event.pointerId, placeOn(picture, event));
    if (isStage) picture.setPointerCapture(event.pointerId);
  });
  picture.addEventListener("pointermove", (event) => {
    if (!pressed.has(event.pointerId)) return;
    const before = middleOf([...pressed.values()]);
    pressed.set(event.pointerId, placeOn(picture, event));
    const after = middleOf([...pressed.values()]);
    const { width, height } = picture.getBoundingClientRect();
    travelledPx += Math.hypot((after.x - before.x) * width, (after.y - before.y) * height);
    if (pressed.size > 1) travelledPx = Number.POSITIVE_INFINITY;
    const isDrag = travelledPx > DRAGGED_PX;
    if (isDrag && !picture.hasPointerCapture(event.pointerId)) picture.setPointerCapture(event.pointerId);
    if (before.apart > 0 && after.apart > 0) view.zoomTo((view.zoom() * after.apart) / before.apart, after);
    if (isDrag || isStage) view.move(before.x - after.x, before.y - after.y);
  });
  for (const end of /** @type {const} */ (["pointerup", "pointercancel"]))
    picture.addEventListener(end, (event) => pressed.delete(event.pointerId));
  // A click ends a drag too.
  picture.addEventListener(
    "click",
    (event) => {
      if (travelledPx > DRAGGED_PX) event.stopImmediatePropagation();
      travelledPx = 0;
    },
    { capture: true },
  );
  // Two fingers are for the picture, whatever the browser would do with them.
  for (const touch of /** @type {const} */ (["touchstart", "touchmove"]))
    picture.addEventListener(touch, (event) => event.touches.length > 1 && event.preventDefault(), {
      passive: false,
    });
}

/** @param {HTMLElement} picture @param {SharedView} view @param {boolean} isStage: once focused it needs no Ctrl */
export function zoomByWheel(picture, view, isStage) {
  picture.addEventListener(
    "wheel",
    (event) => {
      if (!event.ctrlKey && !event.metaKey && !(isStage && document.activeElement === picture)) return;
      event.preventDefault();
      const movedPx = event.deltaY * (event.deltaMode === 0 ? 1 : LINE_PX);
      const factor = Math.exp(-movedPx / (event.ctrlKey ? PINCH_PX : WHEEL_PX));
      view.zoomTo(view.zoom() * factor, placeOn(picture, event));
    },
    { passive: false },
  );
}
