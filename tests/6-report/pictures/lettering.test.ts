import { describe, expect, it } from "vitest";
import { blankPicture, drawText, textWidth } from "../../../src/6-report/pictures/canvas.js";
import { lettering } from "../../../src/6-report/pictures/lettering.js";

const PAGE = 0xff;

/** Pixels of a text that are not page, as x, y. */
function ink(text: string): [number, number][] {
  const picture = blankPicture(120, 40, PAGE);
  drawText(picture, text, 10, 25, 0);
  const found: [number, number][] = [];
  for (let i = 0; i < 120 * 40; i++) {
    if (picture.rgb[3 * i] < PAGE) found.push([i % 120, Math.floor(i / 120)]);
  }
  return found;
}

const xs = (text: string) => ink(text).map(([x]) => x);
const ys = (text: string) => ink(text).map(([, y]) => y);

describe("lettering", () => {
  it("has every small letter and figure, each different", () => {
    const signs = [..."abcdefghijklmnopqrstuvwxyz0123456789.,:-−+×*/%()_=µL"];
    const shapes = signs.map((sign) => JSON.stringify(ink(sign)));
    for (const shape of shapes) expect(shape).not.toBe("[]");
    expect(new Set(shapes).size).toBe(signs.length);
  });

  it("stands on its baseline: only descenders go below", () => {
    for (const sign of "abcdefhiklmnorstuvwxz0123456789.")
      expect(Math.max(...ys(sign)), sign).toBeLessThanOrEqual(26);
    for (const sign of "gjpqy,") expect(Math.max(...ys(sign)), sign).toBeGreaterThan(26);
  });

  it("is as wide as it says, and letters follow each other without touching", () => {
    for (const text of ["mm", "the piece", "100 mm"]) {
      expect(Math.abs(Math.max(...xs(text)) - 10 - textWidth(text)), text).toBeLessThanOrEqual(2);
      expect(Math.min(...xs(text)), text).toBeGreaterThanOrEqual(8);
    }
    // Each pen line of "ll" darkens two columns or three; between them is page.
    const darkest = new Map<number, number>();
    const picture = blankPicture(40, 40, PAGE);
    drawText(picture, "ll", 10, 25, 0);
    for (let x = 0; x < 40; x++) darkest.set(x, picture.rgb[3 * (20 * 40 + x)]);
    const row = [...darkest.values()].map((grey) => (grey < 0x80 ? "#" : ".")).join("");
    expect(row).toMatch(/^\.+#+\.+#+\.+$/);
  });

  it("is symmetrical where the letter is", () => {
    for (const sign of "ovx08") {
      const { width, strokes } = lettering(sign);
      const points = strokes.flatMap((stroke) => stroke.filter((_, i) => i % 2 === 0));
      expect(Math.min(...points), sign).toBeCloseTo(0, 0);
      expect(Math.min(...points) + Math.max(...points), sign).toBeCloseTo(width, 9);
    }
  });

  it("sets capitals small, and letters without their accents", () => {
    expect(ink("Érable")).toEqual(ink("erable"));
  });

  it("leaves out a sign that it does not have, and stays within the picture", () => {
    expect(ink("海")).toEqual([]);
    expect(lettering("海")).toEqual({ width: 0, strokes: [] });
    const small = blankPicture(6, 6, PAGE);
    drawText(small, "mmmm", 2, 5, 0);
    expect(small.rgb.length).toBe(3 * 6 * 6);
  });
});
