import { all, find, isPlainKey } from "./page-parts.js";

/**
 * @typedef {import("./comparison-parts.js").Parts} Parts
 * @typedef {import("./shared-view.js").SharedView} SharedView
 */

/** Factor of a zoom by one key; a button takes two of these steps. */
const STEP = 1.25;

/** Buttons, slider and list above the pictures. @param {Parts} parts @param {SharedView} view */
export function zoomByTools({ root }, view) {
  const zoomSlider = find(root, ".zoom", HTMLInputElement);
  const kind = find(root, ".kind", HTMLSelectElement);
  /** @type {Record<string, () => void>} */
  const buttons = {
    in: () => view.zoomTo(view.zoom() * STEP ** 2),
    out: () => view.zoomTo(view.zoom() / STEP ** 2),
    whole: () => view.zoomTo(1),
    dots: view.toDots,
  };
  for (const button of all(root, "[data-zoom]", HTMLButtonElement))
    button.addEventListener("click", () => buttons[button.dataset.zoom ?? ""]?.());
  zoomSlider.addEventListener("input", () => view.zoomTo(view.maxZoom ** (Number(zoomSlider.value) / 100)));
  kind.addEventListener("change", () => {
    if (!root.querySelector(".close")) view.toDots();
    view.look();
  });
  window.addEventListener("resize", view.look);
}

/** @param {HTMLElement} picture @param {SharedView} view */
export function zoomByKeys(picture, view) {
  /** @type {Record<string, () => void>} */
  const keys = {
    ArrowLeft: () => view.move(-0.1, 0),
    ArrowRight: () => view.move(0.1, 0),
    ArrowUp: () => view.move(0, -0.1),
    ArrowDown: () => view.move(0, 0.1),
    "+": () => view.zoomTo(view.zoom() * STEP),
    "=": () => view.zoomTo(view.zoom() * STEP),
    "-": () => view.zoomTo(view.zoom() / STEP),
    0: () => view.zoomTo(1),
  };
  picture.addEventListener("keydown", (event) => {
    const act = keys[event.key];
    if (!act || !isPlainKey(event)) return;
    // Where nothing can move, arrows scroll the page.
    if (view.zoom() === 1 && event.key.startsWith("Arrow")) return;
    event.preventDefault();
    act();
  });
}
