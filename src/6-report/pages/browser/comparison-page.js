// @ts-check
/*
 * What a comparison's page does where it is looked at: order, the slider between two candidates, and the zoom that all pictures
 * share. Nothing is fetched and nothing kept.
 */
(() => {
  /**
   * @typedef {{ head: string, values: (number | string)[], shown: string[], more: boolean }} Figure values by candidate, empty where there is none
   * @typedef {{ widthMm: number, heightMm: number, names: string[], figures: Figure[], part: { left: number, top: number, width: number, height: number }, detail: { x: number, y: number },
   *   finestColumns: number, fill: [number, number], first: [number, number] }} Data see comparisonPage; fill: shares of a view that the whole piece fills
   */

  /** @template {Element} E @param {ParentNode} within @param {string} selector @param {new () => E} kind @returns {E} */
  const find = (within, selector, kind) => {
    const found = within.querySelector(selector);
    if (!(found instanceof kind)) throw new Error(`The page lacks ${selector}.`);
    return found;
  };
  /** @template {Element} E @param {ParentNode} within @param {string} selector @param {new () => E} kind @returns {E[]} */
  const all = (within, selector, kind) =>
    [...within.querySelectorAll(selector)].filter(/** @returns {each is E} */ (each) => each instanceof kind);
  /** @param {number} value @param {number} least @param {number} most */
  const held = (value, least, most) => Math.max(least, Math.min(most, value));

  const root = find(document, ".comparison", HTMLElement);
  /** @type {Data} */
  const data = JSON.parse(root.dataset.comparison ?? "");
  const says = find(root, "#view-says", HTMLOutputElement);
  const sheet = find(root, ".sheet", HTMLOListElement);
  const cards = all(sheet, ".card", HTMLLIElement);
  const plots = all(root, ".bars", HTMLElement);
  /** By plot and candidate, whatever the order they stand in. */
  const plottedBars = plots.map((plot) => all(plot, ".bar", HTMLElement));
  document.documentElement.classList.add("live");

  // ---- The view that all pictures share

  /** Narrowest view, and that of the button "Dots", in pixels of the finest bitmap. */
  const [NARROWEST_PX, DOTS_PX] = [24, 72];
  /** Screen pixels to a pixel of the finest bitmap from which the close view is shown: below, a screen would blend dots wrongly. */
  const CLOSE_AT = 1.5;
  /** Share of the close view from which a view must lie inside it. */
  const INSIDE_AT = 0.5;

  const { part, finestColumns } = data;
  const [fillX, fillY] = data.fill;
  const most = Math.max(4, finestColumns / NARROWEST_PX / fillX);
  const zoomSlider = find(root, ".zoom", HTMLInputElement);
  const kind = find(root, ".kind", HTMLSelectElement);
  const two = root.querySelector("#two");
  let zoom = 1;
  /** Middle of the view, in shares of the piece. */
  let [x, y] = [0.5, 0.5];

  /**
   * Where the middle may be: anywhere as long as the piece fills the view; the closer, the nearer to the part that is known dot
   * by dot, and at last inside it.
   *
   * @param {number} at @param {number} from @param {number} size of that part @param {number} view all in shares of the piece
   */
  function within(at, from, size, view) {
    if (view >= 1) return 0.5;
    const freedom = held((view / size - INSIDE_AT) / (1 - INSIDE_AT), 0, 1);
    const least = view / 2 + (1 - freedom) * from;
    const last = 1 - view / 2 - (1 - freedom) * (1 - from - size);
    return held(at, least, last);
  }

  const stage = two ? find(two, ".stage", HTMLElement) : undefined;

  function look() {
    const [spanX, spanY] = [1 / (zoom * fillX), 1 / (zoom * fillY)];
    x = within(x, part.left, part.width, spanX);
    y = within(y, part.top, part.height, spanY);
    root.style.setProperty("--z", String(zoom));
    root.style.setProperty("--x", String(x - spanX / 2));
    root.style.setProperty("--y", String(y - spanY / 2));
    root.classList.toggle("zoomed", zoom > 1);
    zoomSlider.value = String((100 * Math.log(zoom)) / Math.log(most));
    const needed = (finestColumns * CLOSE_AT) / fillX / window.devicePixelRatio;
    const card = find(sheet, ".view", HTMLElement);
    sheet.classList.toggle("close", card.clientWidth * zoom >= needed);
    if (stage) two?.classList.toggle("close", stage.clientWidth * zoom >= needed);
    const seen = kind.value === "dots" ? "see-dots" : "see-marks";
    root.classList.remove("see-dots", "see-marks");
    root.classList.add(seen);
    const [wide, high] = [data.widthMm * Math.min(1, spanX), data.heightMm * Math.min(1, spanY)].map((mm) =>
      mm.toFixed(mm < 10 ? 2 : 1),
    );
    const [fromLeft, fromTop] = [x * data.widthMm, y * data.heightMm].map((mm) => mm.toFixed(1));
    const text = zoom === 1 ? "the whole piece" : `${zoom.toFixed(1)} times: ${wide} × ${high} mm`;
    const place = `${text}, ${fromLeft} mm from the left, ${fromTop} mm from the top`;
    zoomSlider.setAttribute("aria-valuetext", zoom === 1 ? text : place);
    tell(text);
  }

  /** @param {string} text */
  function tell(text) {
    if (says.textContent !== text) says.textContent = text;
  }

  /**
   * @param {number} to @param {number} [px] a place in the view that keeps what it shows, in shares of it @param {number} [py]
   */
  function zoomTo(to, px = 0.5, py = 0.5) {
    const next = held(to, 1, most);
    x += ((px - 0.5) / fillX) * (1 / zoom - 1 / next);
    y += ((py - 0.5) / fillY) * (1 / zoom - 1 / next);
    zoom = next;
    look();
  }
  /** @param {number} dx in shares of the view @param {number} dy */
  function move(dx, dy) {
    x += dx / zoom / fillX;
    y += dy / zoom / fillY;
    look();
  }
  const STEP = 1.25;
  const toDots = () => {
    zoom = held(finestColumns / DOTS_PX / fillX, 1, most);
    ({ x, y } = data.detail);
    look();
  };
  /** @type {Record<string, () => void>} */
  const buttons = {
    in: () => zoomTo(zoom * STEP ** 2),
    out: () => zoomTo(zoom / STEP ** 2),
    whole: () => zoomTo(1),
    dots: toDots,
  };
  for (const button of all(root, "[data-zoom]", HTMLButtonElement))
    button.addEventListener("click", () => buttons[button.dataset.zoom ?? ""]?.());
  zoomSlider.addEventListener("input", () => zoomTo(most ** (Number(zoomSlider.value) / 100)));
  kind.addEventListener("change", () => {
    if (!root.querySelector(".close")) toDots();
    look();
  });
  window.addEventListener("resize", look);

  /** @type {Record<string, () => void>} */
  const keys = {
    ArrowLeft: () => move(-0.1, 0),
    ArrowRight: () => move(0.1, 0),
    ArrowUp: () => move(0, -0.1),
    ArrowDown: () => move(0, 0.1),
    "+": () => zoomTo(zoom * STEP),
    "=": () => zoomTo(zoom * STEP),
    "-": () => zoomTo(zoom / STEP),
    0: () => zoomTo(1),
  };

  /** Movement from which a press is no click, in pixels of the screen. */
  const DRAGGED_PX = 6;

  /** @param {HTMLElement} view */
  function lookThrough(view) {
    /** @type {Map<number, { x: number, y: number }>} */
    const held = new Map();
    let travelled = 0;
    /** @param {{ clientX: number, clientY: number }} event */
    const place = (event) => {
      const box = view.getBoundingClientRect();
      return { x: (event.clientX - box.left) / box.width, y: (event.clientY - box.top) / box.height };
    };
    const middle = () => {
      const points = [...held.values()];
      const mean = (/** @type {"x" | "y"} */ axis) =>
        points.reduce((sum, point) => sum + point[axis], 0) / points.length;
      const at = { x: mean("x"), y: mean("y") };
      const apart = points.length > 1 ? Math.hypot(points[0].x - points[1].x, points[0].y - points[1].y) : 0;
      return { ...at, apart };
    };
    view.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      if (held.size === 0) travelled = 0;
      held.set(event.pointerId, place(event));
      if (view === stage) view.setPointerCapture(event.pointerId);
    });
    view.addEventListener("pointermove", (event) => {
      if (!held.has(event.pointerId)) return;
      const before = middle();
      held.set(event.pointerId, place(event));
      const after = middle();
      const box = view.getBoundingClientRect();
      travelled += Math.hypot((after.x - before.x) * box.width, (after.y - before.y) * box.height);
      if (held.size > 1) travelled = Number.POSITIVE_INFINITY;
      if (travelled > DRAGGED_PX && !view.hasPointerCapture(event.pointerId))
        view.setPointerCapture(event.pointerId);
      if (before.apart > 0 && after.apart > 0) zoomTo((zoom * after.apart) / before.apart, after.x, after.y);
      if (travelled > DRAGGED_PX || view === stage) move(before.x - after.x, before.y - after.y);
    });
    for (const end of /** @type {const} */ (["pointerup", "pointercancel"]))
      view.addEventListener(end, (event) => held.delete(event.pointerId));
    // A click ends a drag too.
    view.addEventListener(
      "click",
      (event) => {
        if (travelled > DRAGGED_PX) event.stopImmediatePropagation();
        travelled = 0;
      },
      { capture: true },
    );
    // Two fingers are for the picture, whatever the browser would do with them.
    for (const touch of /** @type {const} */ (["touchstart", "touchmove"]))
      view.addEventListener(touch, (event) => event.touches.length > 1 && event.preventDefault(), {
        passive: false,
      });
    view.addEventListener(
      "wheel",
      (event) => {
        if (!event.ctrlKey && !event.metaKey && !(view === stage && document.activeElement === stage)) return;
        event.preventDefault();
        const { x: px, y: py } = place(event);
        const lines = event.deltaMode === 0 ? 1 : 30;
        zoomTo(zoom * Math.exp((-event.deltaY * lines) / (event.ctrlKey ? 200 : 500)), px, py);
      },
      { passive: false },
    );
    view.addEventListener("keydown", (event) => {
      const act = keys[event.key];
      if (!act || event.ctrlKey || event.altKey || event.metaKey) return;
      // Where nothing can move, arrows scroll the page.
      if (zoom === 1 && event.key.startsWith("Arrow")) return;
      event.preventDefault();
      act();
    });
  }
  for (const view of all(root, ".view", HTMLElement)) lookThrough(view);

  // ---- Two candidates on the slider

  /** @type {[number, number]} */
  const picked = [data.first[0], data.first[1]];
  /** Which side a click fills next. */
  let nextSide = 1;
  const SIDES = /** @type {const} */ (["left", "right"]);
  const away = document.createElement("a");
  away.href = "#two";
  away.className = "to-two screen";

  /** @param {string} name which image of a view @param {ParentNode} from @param {ParentNode} to */
  function copyPicture(name, from, to) {
    const [source, target] = [from, to].map((each) => find(each, name, HTMLImageElement));
    if (target.src !== source.src) target.src = source.src;
    target.style.cssText = source.style.cssText;
    target.alt = source.alt;
  }

  /** @param {Element} section */
  function showTwo(section) {
    SIDES.forEach((side, s) => {
      const card = cards[picked[s]];
      const layer = find(section, `.layer.${side}`, HTMLElement);
      for (const name of [".whole", ".marks", ".dots"]) copyPicture(name, card, layer);
      find(layer, ".reach", HTMLElement).style.cssText = find(card, ".reach", HTMLElement).style.cssText;
      find(layer, ".label", HTMLElement).textContent = data.names[picked[s]];
      find(section, `.pick.${side} select`, HTMLSelectElement).value = String(picked[s]);
    });
    cards.forEach((card, k) => {
      const sides = SIDES.filter((_, s) => picked[s] === k);
      find(card, ".view", HTMLElement).setAttribute("aria-pressed", String(sides.length > 0));
      find(card, ".side", HTMLElement).textContent = sides.join(" and ");
      for (const bars of plottedBars)
        for (const side of SIDES) bars[k].classList.toggle(side, sides.includes(side));
    });
    const main = data.figures.filter(({ more }) => !more);
    const rows = main.map(({ head, shown }) => {
      const row = document.createElement("tr");
      const name = document.createElement("th");
      name.scope = "row";
      name.textContent = head;
      row.append(name);
      for (const k of picked) {
        const cell = document.createElement("td");
        cell.textContent = shown[k] || "–";
        row.append(cell);
      }
      return row;
    });
    find(section, ".facing tbody", HTMLTableSectionElement).replaceChildren(...rows);
    const [left, right] = picked.map((k) => data.names[k]);
    find(section, ".slide", HTMLInputElement).setAttribute(
      "aria-label",
      `Border between ${left} and ${right}`,
    );
    away.textContent = `On the slider: ${left} | ${right}`;
  }

  if (two && stage) {
    const section = two;
    const slide = find(section, ".slide", HTMLInputElement);
    const border = find(stage, ".border", HTMLElement);
    const place = () => {
      stage.style.setProperty("--at", `${slide.value}%`);
      slide.setAttribute("aria-valuetext", `${Math.round(Number(slide.value))} % from the left`);
    };
    slide.addEventListener("input", place);
    border.addEventListener("pointerdown", (event) => {
      event.stopPropagation();
      border.setPointerCapture(event.pointerId);
    });
    border.addEventListener("pointermove", (event) => {
      if (!border.hasPointerCapture(event.pointerId)) return;
      const box = stage.getBoundingClientRect();
      slide.value = String((100 * (event.clientX - box.left)) / box.width);
      place();
    });
    place();

    let inSight = true;
    new IntersectionObserver(([entry]) => {
      inSight = entry.isIntersecting;
      if (inSight) away.classList.remove("shown");
    }).observe(stage);
    root.append(away);
    /** @param {number} k */
    const pick = (k) => {
      if (!picked.includes(k)) {
        picked[nextSide] = k;
        nextSide = 1 - nextSide;
      }
      showTwo(section);
      tell(`On the slider: left ${data.names[picked[0]]}, right ${data.names[picked[1]]}`);
      away.classList.toggle("shown", !inSight);
    };
    cards.forEach((card, k) => {
      find(card, ".view", HTMLElement).addEventListener("click", () => pick(k));
    });
    for (const bars of plottedBars)
      bars.forEach((bar, k) => {
        bar.addEventListener("click", () => pick(k));
      });
    SIDES.forEach((side, s) => {
      const select = find(section, `.pick.${side} select`, HTMLSelectElement);
      select.addEventListener("change", () => {
        picked[s] = Number(select.value);
        showTwo(section);
      });
    });
  }

  // ---- Order

  const order = find(root, ".order", HTMLSelectElement);
  const way = find(root, ".way", HTMLButtonElement);
  const rows = all(root, "section > .scrolls tbody tr", HTMLTableRowElement);
  const body = rows[0]?.parentElement;
  let rising = true;

  function sort() {
    const figure = order.value === "" ? undefined : data.figures[Number(order.value)];
    const values = figure?.values ?? [];
    const sign = rising ? 1 : -1;
    const places = cards.map((_, k) => k);
    if (figure)
      places.sort((a, b) => {
        const [one, other] = [values[a], values[b]];
        // Where there is nothing to compare, last either way.
        if (one === "" || other === "") return Number(one === "") - Number(other === "") || a - b;
        if (typeof one === "number" && typeof other === "number") return sign * (one - other) || a - b;
        return sign * String(one).localeCompare(String(other), "en") || a - b;
      });
    sheet.append(...places.map((k) => cards[k]));
    plots.forEach((plot, p) => {
      plot.append(...places.map((k) => plottedBars[p][k]));
    });
    body?.append(...places.map((k) => rows[k]));
    for (const item of all(sheet, ".figures > div", HTMLElement))
      item.classList.toggle("sorted", item.dataset.head === figure?.head);
    for (const button of all(root, ".sorts", HTMLButtonElement))
      button.setAttribute("aria-pressed", String(button.dataset.head === figure?.head));
    way.disabled = !figure;
    way.textContent = rising ? "lowest first" : "highest first";
    tell(
      figure
        ? `Sorted by ${figure.head}, ${way.textContent}: ${data.names[places[0]]} comes first`
        : "In the order asked for",
    );
  }
  order.addEventListener("change", () => {
    rising = true;
    sort();
  });
  way.addEventListener("click", () => {
    rising = !rising;
    sort();
  });
  for (const button of all(root, ".sorts", HTMLButtonElement))
    button.addEventListener("click", () => {
      const at = String(data.figures.findIndex(({ head }) => head === button.dataset.head));
      rising = order.value === at ? !rising : true;
      order.value = at;
      sort();
    });

  if (two) showTwo(two);
  look();
})();
