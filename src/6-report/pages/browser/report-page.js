/*
 * What a report page does where it is looked at: the slider between photo and prediction, and the loupe over the dots.
 * Nothing is fetched and nothing kept.
 */
import { startLoupe } from "./loupe.js";
import { all, find } from "./page-parts.js";
import { startSlider } from "./slider.js";

document.documentElement.classList.add("live");
for (const compare of all(document, ".compare", HTMLElement)) startSlider(compare);
for (const figure of all(document, ".loupe", HTMLElement)) {
  const picture = find(figure, "img", HTMLImageElement);
  picture.decode().then(() => startLoupe(figure, picture));
}
