import { expect, it } from "vitest";
import { lettering } from "../../src/6-report/pictures/lettering.js";
import { drawableName } from "../../src/board/drawable-name.js";

it.each([
  ["Größe & Maße – Straße.jpg", "grosse + masse _ strasse.jpg"],
  ["Zoë's café [small].heic", "zoe_s cafe _small_.heic"],
  ["Анна и Пётр.jpg", "____ _ ____.jpg"],
  ["照片😀.jpg", "___.jpg"],
])("%s is lettered as %s", (name, drawn) => {
  expect(drawableName(name)).toBe(drawn);
  // Each sign takes its room: none is left out.
  for (const sign of drawn.replaceAll(" ", ""))
    expect(lettering(sign).strokes.length, sign).toBeGreaterThan(0);
});
