import { find, placeOn } from "./page-parts.js";

/** @typedef {import("./comparison-parts.js").Parts} Parts */

const SIDES = /** @type {const} */ (["left", "right"]);

/** Two candidates on the slider; a click on a card or a bar brings others. @param {Parts} parts */
export function startPair(parts) {
  const { root, data, cards, plottedBars, pair, tell } = parts;
  if (!pair) return;
  const { section, stage } = pair;
  moveBorder(section, stage);
  const link = linkBack(root, stage);
  /** @type {[number, number]} */
  const picked = [data.first[0], data.first[1]];
  /** Which side a click fills next. */
  let nextSide = 1;
  const show = () => {
    const names = showPair(parts, section, picked);
    link.name(`On the slider: ${names.join(" | ")}`);
  };
  /** @param {number} k */
  const pick = (k) => {
    if (!picked.includes(k)) {
      picked[nextSide] = k;
      nextSide = 1 - nextSide;
    }
    show();
    tell(`On the slider: left ${data.names[picked[0]]}, right ${data.names[picked[1]]}`);
    link.offer();
  };
  for (const [k, card] of cards.entries())
    find(card, ".view", HTMLElement).addEventListener("click", () => pick(k));
  for (const bars of plottedBars)
    for (const [k, bar] of bars.entries()) bar.addEventListener("click", () => pick(k));
  for (const [s, side] of SIDES.entries()) {
    const select = find(section, `.pick.${side} select`, HTMLSelectElement);
    select.addEventListener("change", () => {
      picked[s] = Number(select.value);
      show();
    });
  }
  show();
}

/** The border between the two, by the slider below or dragged itself. @param {HTMLElement} section @param {HTMLElement} stage */
function moveBorder(section, stage) {
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
    slide.value = String(100 * placeOn(stage, event).x);
    place();
  });
  place();
}

/** A link to the slider, offered while it is out of sight. @param {HTMLElement} root @param {HTMLElement} stage */
function linkBack(root, stage) {
  const link = document.createElement("a");
  link.href = "#two";
  link.className = "to-two screen";
  let isInSight = true;
  new IntersectionObserver(([entry]) => {
    isInSight = entry.isIntersecting;
    if (isInSight) link.classList.remove("shown");
  }).observe(stage);
  root.append(link);
  return {
    /** @param {string} words */
    name(words) {
      link.textContent = words;
    },
    offer: () => link.classList.toggle("shown", !isInSight),
  };
}

/** Returns the names of the two. @param {Parts} parts @param {HTMLElement} section @param {readonly [number, number]} picked */
function showPair({ data, cards, plottedBars }, section, picked) {
  for (const [s, side] of SIDES.entries()) {
    const card = cards[picked[s]];
    const layer = find(section, `.layer.${side}`, HTMLElement);
    for (const name of [".whole", ".marks", ".dots"]) copyPicture(name, card, layer);
    find(layer, ".reach", HTMLElement).style.cssText = find(card, ".reach", HTMLElement).style.cssText;
    find(layer, ".label", HTMLElement).textContent = data.names[picked[s]];
    find(section, `.pick.${side} select`, HTMLSelectElement).value = String(picked[s]);
  }
  for (const [k, card] of cards.entries()) {
    const sides = SIDES.filter((_, s) => picked[s] === k);
    find(card, ".view", HTMLElement).setAttribute("aria-pressed", String(sides.length > 0));
    find(card, ".side", HTMLElement).textContent = sides.join(" and ");
    for (const bars of plottedBars)
      for (const side of SIDES) bars[k].classList.toggle(side, sides.includes(side));
  }
  find(section, ".facing tbody", HTMLTableSectionElement).replaceChildren(...facingRows(data, picked));
  const names = picked.map((k) => data.names[k]);
  find(section, ".slide", HTMLInputElement).setAttribute(
    "aria-label",
    `Border between ${names.join(" and ")}`,
  );
  return names;
}

/** @param {string} name which image of a view @param {ParentNode} from @param {ParentNode} to */
function copyPicture(name, from, to) {
  const [source, target] = [from, to].map((each) => find(each, name, HTMLImageElement));
  if (target.src !== source.src) target.src = source.src;
  target.style.cssText = source.style.cssText;
  target.alt = source.alt;
}

/** The main figures of the two. @param {import("./comparison-parts.js").Data} data @param {readonly number[]} picked */
const facingRows = ({ figures }, picked) =>
  figures
    .filter(({ more }) => !more)
    .map(({ head, shown }) => {
      const row = document.createElement("tr");
      const name = document.createElement("th");
      name.scope = "row";
      name.textContent = head;
      row.append(name);
      for (const k of picked) row.insertCell().textContent = shown[k] || "–";
      return row;
    });
