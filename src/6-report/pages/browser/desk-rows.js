import { clamp } from "./page-parts.js";

/** @typedef {ReturnType<typeof createRows>} Rows */

/**
 * The rows of the list in the document: only those near the screen, so that thousands open and change at once. All rows have one
 * height. On paper all are there.
 *
 * @param {HTMLOListElement} list @param {string[]} rowsHtml by item
 * @param {(row: HTMLLIElement, k: number) => void} dress gives a row its state
 */
export function createRows(list, rowsHtml, dress) {
  /** Items to show, in their order. @type {number[]} */
  let order = [];
  let onPaper = false;
  /** @type {Map<number, HTMLLIElement>} */
  const made = new Map();
  const template = document.createElement("template");
  /** @param {number} k */
  const make = (k) => {
    template.innerHTML = rowsHtml[k];
    const row = template.content.firstElementChild;
    if (!(row instanceof HTMLLIElement)) throw new Error("A row of the page is broken.");
    row.dataset.item = String(k);
    dress(row, k);
    return row;
  };
  const draw = () => {
    const { columns, stepPx } = gridOf(list);
    const lines = Math.ceil(order.length / columns);
    const { top } = list.getBoundingClientRect();
    const from = onPaper ? 0 : clamp(Math.floor((-top - innerHeight) / stepPx), 0, lines);
    const to = onPaper ? lines : clamp(Math.ceil((2 * innerHeight - top) / stepPx), from, lines);
    list.style.paddingTop = `${from * stepPx}px`;
    list.style.paddingBottom = `${(lines - to) * stepPx}px`;
    place(order.slice(from * columns, to * columns), from * columns);
  };
  /** @param {number[]} wanted @param {number} before how many stand above */
  const place = (wanted, before) => {
    const keep = new Set(wanted);
    for (const [k, row] of made) {
      if (keep.has(k)) continue;
      row.remove();
      made.delete(k);
    }
    for (const [i, k] of wanted.entries()) {
      const row = made.get(k) ?? make(k);
      made.set(k, row);
      row.setAttribute("aria-posinset", String(before + i + 1));
      row.setAttribute("aria-setsize", String(order.length));
    }
    putInOrder(
      list,
      wanted.map((k) => made.get(k)),
    );
  };
  onScroll(draw);
  for (const [name, paper] of /** @type {const} */ ([
    ["beforeprint", true],
    ["afterprint", false],
  ]))
    addEventListener(name, () => {
      onPaper = paper;
      draw();
    });
  return {
    /** @param {number[]} items */
    show(items) {
      order = items;
      draw();
    },
    /** The row of an item, whether it is in the list or not. @param {number} k */
    row: (k) => made.get(k) ?? make(k),
    /** Give the rows in the list their state again. @param {(k: number) => boolean} which */
    dressAgain(which) {
      for (const [k, row] of made) if (which(k)) dress(row, k);
    },
    /** Scroll to an item as far as necessary. @param {number} k */
    bringInSight(k) {
      const { columns, stepPx } = gridOf(list);
      const top = list.getBoundingClientRect().top + Math.floor(order.indexOf(k) / columns) * stepPx;
      if (top < 0) scrollBy(0, top);
      else if (top + stepPx > innerHeight) scrollBy(0, top + stepPx - innerHeight);
      draw();
    },
  };
}

/** @param {Element} list */
function gridOf(list) {
  const { gridTemplateColumns, gridAutoRows, rowGap } = getComputedStyle(list);
  return {
    columns: gridTemplateColumns.split(" ").length,
    stepPx: Number.parseFloat(gridAutoRows) + Number.parseFloat(rowGap),
  };
}

/** Move only what stands wrong: a row that is moved loses the focus. @param {Element} list @param {(Element | undefined)[]} rows */
function putInOrder(list, rows) {
  let at = list.firstElementChild;
  for (const row of rows) {
    if (!row) continue;
    if (row === at) at = row.nextElementSibling;
    else list.insertBefore(row, at);
  }
}

/** Once a frame at most. @param {() => void} draw */
function onScroll(draw) {
  let isAsked = false;
  const drawSoon = () => {
    if (isAsked) return;
    isAsked = true;
    requestAnimationFrame(() => {
      isAsked = false;
      draw();
    });
  };
  addEventListener("scroll", drawSoon, { passive: true });
  addEventListener("resize", drawSoon);
}
