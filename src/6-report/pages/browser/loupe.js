import { expose } from "./exposure.js";
import { paintBits, paintMarks } from "./loupe-paint.js";
import { levelsIn, viewAt, viewWords } from "./loupe-view.js";
import { find, isPlainKey, placeOn } from "./page-parts.js";

/** @typedef {import("./loupe-view.js").Dots} Dots */

/** The loupe over the dots. @param {HTMLElement} figure @param {HTMLImageElement} picture the dots */
export function startLoupe(figure, picture) {
  /** @type {Dots} */
  const dots = JSON.parse(figure.dataset.dots ?? "");
  const reader = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  if (!reader) return;
  const field = find(figure, ".field", HTMLElement);
  const ring = find(figure, ".ring", HTMLElement);
  const frame = find(figure, ".frame", HTMLElement);
  const zoom = find(figure, "input", HTMLInputElement);
  const says = find(figure, "output", HTMLOutputElement);
  const bits = find(figure, "canvas.bits", HTMLCanvasElement);
  const marks = find(figure, "canvas.marks", HTMLCanvasElement);
  let view = viewAt(dots, Number(zoom.value), dots.start);

  /** @param {HTMLElement} mark @param {number} x in burn pixels as seen @param {number} y */
  const place = (mark, x, y) => {
    mark.style.left = `${(100 * x) / dots.columns}%`;
    mark.style.top = `${(100 * y) / dots.rows}%`;
  };
  /** @param {number} x the middle, in burn pixels as seen @param {number} y */
  const lookAt = (x, y) => {
    view = viewAt(dots, Number(zoom.value), { x, y });
    const { columns, rows, seenLeft, top } = view;
    const levels = levelsIn(reader, picture, dots, view);
    const dose = expose(dots.burn, levels, { columns, rows, firstRow: top });
    const burnedShare = paintBits(bits, dots, view, levels);
    const luminance = paintMarks(marks, dots, view, dose);
    place(ring, seenLeft + columns / 2, top + rows / 2);
    place(frame, seenLeft, top);
    frame.style.width = `${(100 * columns) / dots.columns}%`;
    frame.style.height = `${(100 * rows) / dots.rows}%`;
    says.textContent = viewWords(dots, view, { burnedShare, luminance });
  };
  lookAt(view.x, view.y);
  zoom.addEventListener("input", () => lookAt(view.x, view.y));
  moveByKeys(ring, (stepX, stepY, isFine) =>
    lookAt(
      view.x + stepX * (isFine ? 1 : Math.ceil(view.columns / 4)),
      view.y + stepY * (isFine ? 1 : Math.ceil(view.rows / 4)),
    ),
  );
  moveByPointer(field, ring, (shareX, shareY) => lookAt(shareX * dots.columns, shareY * dots.rows));
}

/** @param {HTMLElement} ring @param {(stepX: number, stepY: number, isFine: boolean) => void} step */
function moveByKeys(ring, step) {
  /** @type {Record<string, [number, number]>} */
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  ring.addEventListener("keydown", (event) => {
    const arrow = arrows[event.key];
    if (!arrow || !isPlainKey(event)) return;
    event.preventDefault();
    step(arrow[0], arrow[1], event.shiftKey);
  });
}

/** @param {HTMLElement} field @param {HTMLElement} ring @param {(shareX: number, shareY: number) => void} lookAt */
function moveByPointer(field, ring, lookAt) {
  /** @param {MouseEvent} event */
  const moveTo = (event) => {
    const { x, y } = placeOn(field, event);
    lookAt(x, y);
  };
  field.addEventListener("click", moveTo);
  field.addEventListener("pointerdown", (event) => {
    // A finger beside the ring wants to scroll the page.
    if (event.pointerType === "touch" && event.target !== ring) return;
    field.setPointerCapture(event.pointerId);
    ring.focus({ preventScroll: true });
    event.preventDefault();
    moveTo(event);
  });
  field.addEventListener("pointermove", (event) => {
    if (field.hasPointerCapture(event.pointerId)) moveTo(event);
  });
}
