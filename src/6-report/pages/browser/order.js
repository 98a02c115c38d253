import { all, find } from "./page-parts.js";

/**
 * @typedef {import("./comparison-parts.js").Parts} Parts
 * @typedef {import("./comparison-parts.js").Figure} Figure
 */

/** Cards, bars and rows in the order of a figure. @param {Parts} parts */
export function startOrder(parts) {
  const { root, data } = parts;
  const order = find(root, ".order", HTMLSelectElement);
  const way = find(root, ".way", HTMLButtonElement);
  const tableRows = all(root, ".folded > .scrolls tbody tr", HTMLTableRowElement);
  let rising = true;
  const sort = () => {
    const figure = order.value === "" ? undefined : data.figures[Number(order.value)];
    const places = placesBy(figure, data.names.length, rising);
    way.disabled = !figure;
    way.textContent = rising ? "lowest first" : "highest first";
    arrange(parts, tableRows, places);
    markFigure(parts, figure);
    const first = data.names[places[0]];
    parts.tell(
      figure
        ? `Sorted by ${figure.head}, ${way.textContent}: ${first} comes first`
        : "In the order asked for",
    );
  };
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
}

/** Candidates in the order of a figure; without one in the order asked for. @param {Figure | undefined} figure @param {number} count @param {boolean} rising */
function placesBy(figure, count, rising) {
  const places = Array.from({ length: count }, (_, k) => k);
  if (!figure) return places;
  const { values } = figure;
  const sign = rising ? 1 : -1;
  return places.sort((a, b) => {
    const [one, other] = [values[a], values[b]];
    // Where there is nothing to compare, last either way.
    if (one === "" || other === "") return Number(one === "") - Number(other === "") || a - b;
    if (typeof one === "number" && typeof other === "number") return sign * (one - other) || a - b;
    return sign * String(one).localeCompare(String(other), "en") || a - b;
  });
}

/** @param {Parts} parts @param {HTMLTableRowElement[]} tableRows @param {number[]} places */
function arrange({ sheet, cards, plots, plottedBars }, tableRows, places) {
  sheet.append(...places.map((k) => cards[k]));
  for (const [p, plot] of plots.entries()) plot.append(...places.map((k) => plottedBars[p][k]));
  tableRows[0]?.parentElement?.append(...places.map((k) => tableRows[k]));
}

/** @param {Parts} parts @param {Figure | undefined} figure */
function markFigure({ root, sheet }, figure) {
  for (const item of all(sheet, ".figures > div", HTMLElement))
    item.classList.toggle("sorted", item.dataset.head === figure?.head);
  for (const button of all(root, ".sorts", HTMLButtonElement))
    button.setAttribute("aria-pressed", String(button.dataset.head === figure?.head));
}
