import { clamp, find } from "./page-parts.js";

/**
 * @typedef {import("./comparison-parts.js").Parts} Parts
 * @typedef {ReturnType<typeof createSharedView>} SharedView
 */

/** Narrowest view, and that of the button "Dots", in pixels of the finest bitmap. */
const [NARROWEST_PX, DOTS_PX] = [24, 72];
/** Screen pixels to a pixel of the finest bitmap from which the close view is shown: below, a screen would blend dots wrongly. */
const CLOSE_AT = 1.5;
/** Share of the close view from which a view must lie inside it. */
const INSIDE_AT = 0.5;

/**
 * Where the middle may be: anywhere as long as the piece fills the view; the closer, the nearer to the part that is known dot
 * by dot, and at last inside it.
 *
 * @param {number} at @param {number} from @param {number} size of that part @param {number} view all in shares of the piece
 */
function within(at, from, size, view) {
  if (view >= 1) return 0.5;
  const freedom = clamp((view / size - INSIDE_AT) / (1 - INSIDE_AT), 0, 1);
  const first = view / 2 + (1 - freedom) * from;
  const last = 1 - view / 2 - (1 - freedom) * (1 - from - size);
  return clamp(at, first, last);
}

/** The view that all pictures share. @param {Parts} parts */
export function createSharedView({ root, data, sheet, pair, tell }) {
  const { part, finestColumns } = data;
  const [fillX, fillY] = data.fill;
  const maxZoom = Math.max(4, finestColumns / NARROWEST_PX / fillX);
  const zoomSlider = find(root, ".zoom", HTMLInputElement);
  const kind = find(root, ".kind", HTMLSelectElement);
  let zoom = 1;
  /** Middle of the view, in shares of the piece. */
  let [x, y] = [0.5, 0.5];

  /** The close view takes over where its pixels are large enough. */
  function choosePictures() {
    const neededPx = (finestColumns * CLOSE_AT) / fillX / window.devicePixelRatio;
    const card = find(sheet, ".view", HTMLElement);
    sheet.classList.toggle("close", card.clientWidth * zoom >= neededPx);
    pair?.section.classList.toggle("close", pair.stage.clientWidth * zoom >= neededPx);
    root.classList.toggle("see-dots", kind.value === "dots");
    root.classList.toggle("see-marks", kind.value !== "dots");
  }

  function look() {
    const [spanX, spanY] = [1 / (zoom * fillX), 1 / (zoom * fillY)];
    x = within(x, part.left, part.width, spanX);
    y = within(y, part.top, part.height, spanY);
    root.style.setProperty("--z", String(zoom));
    root.style.setProperty("--x", String(x - spanX / 2));
    root.style.setProperty("--y", String(y - spanY / 2));
    root.classList.toggle("zoomed", zoom > 1);
    choosePictures();
    zoomSlider.value = String((100 * Math.log(zoom)) / Math.log(maxZoom));
    const { size, place } = viewWords(data, { zoom, x, y, spanX, spanY });
    zoomSlider.setAttribute("aria-valuetext", zoom === 1 ? size : `${size}, ${place}`);
    tell(size);
  }

  return {
    maxZoom,
    zoom: () => zoom,
    look,
    /** @param {number} to @param {{ x: number, y: number }} [kept] a place in the view that keeps what it shows, in shares of it */
    zoomTo(to, kept = { x: 0.5, y: 0.5 }) {
      const next = clamp(to, 1, maxZoom);
      x += ((kept.x - 0.5) / fillX) * (1 / zoom - 1 / next);
      y += ((kept.y - 0.5) / fillY) * (1 / zoom - 1 / next);
      zoom = next;
      look();
    },
    /** @param {number} dx in shares of the view @param {number} dy */
    move(dx, dy) {
      x += dx / zoom / fillX;
      y += dy / zoom / fillY;
      look();
    },
    toDots() {
      zoom = clamp(finestColumns / DOTS_PX / fillX, 1, maxZoom);
      ({ x, y } = data.detail);
      look();
    },
  };
}

/**
 * @param {import("./comparison-parts.js").Data} data
 * @param {{ zoom: number, x: number, y: number, spanX: number, spanY: number }} view its middle and its width and height, in shares of the piece
 */
function viewWords({ widthMm, heightMm }, { zoom, x, y, spanX, spanY }) {
  const [wide, high] = [widthMm * Math.min(1, spanX), heightMm * Math.min(1, spanY)].map((mm) =>
    mm.toFixed(mm < 10 ? 2 : 1),
  );
  const [fromLeft, fromTop] = [x * widthMm, y * heightMm].map((mm) => mm.toFixed(1));
  return {
    size: zoom === 1 ? "the whole piece" : `${zoom.toFixed(1)} times: ${wide} × ${high} mm`,
    place: `${fromLeft} mm from the left, ${fromTop} mm from the top`,
  };
}
