import { find } from "./page-parts.js";

/** The slider between the photo as wanted and as predicted. @param {HTMLElement} compare */
export function startSlider(compare) {
  const input = find(compare, "input", HTMLInputElement);
  const show = () => {
    compare.style.setProperty("--at", `${input.value}%`);
    const share = Math.round(Number(input.value));
    input.setAttribute("aria-valuetext", `left ${share} % as wanted, the rest as predicted`);
  };
  input.addEventListener("input", show);
  show();
}
