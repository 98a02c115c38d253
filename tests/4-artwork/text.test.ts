import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { fillRow } from "../../src/4-artwork/fill-polygons.js";
import { textFonts } from "../../src/4-artwork/text-font.js";
import { type TextLine, textLines } from "../../src/4-artwork/text-lines.js";
import { refusalOf } from "../support/refusal.js";

const pitch = { alongMm: 0.05, acrossMm: 0.05 };

/** A line as 0 and 1, its baseline on row `baseline`. */
function drawn({ polygons }: TextLine, columns: number, rows: number, baseline: number): Uint8Array {
  const bits = new Uint8Array(columns * rows);
  const row = new Float32Array(columns);
  for (let y = 0; y < rows; y++) {
    row.fill(0);
    fillRow(polygons, [0, (y + 0.5 - baseline) * pitch.acrossMm], pitch, row, 1);
    bits.set(row, y * columns);
  }
  return bits;
}

describe("letters", () => {
  it("are as high as was asked, from the baseline", () => {
    const [{ polygons }] = textLines("HEI", 4, 100);
    const ys = polygons.flat().filter((_, i) => i % 2 === 1);
    expect(Math.min(...ys)).toBeCloseTo(-4, 2);
    expect(Math.max(...ys)).toBeCloseTo(0, 9);
  });

  it("fill the pixels that another renderer fills", async () => {
    // librsvg draws the same outline; where a pixel is covered by more than 60 % or less than 40 %, the middles must agree.
    const [line] = textLines("Ada & Bø 2026 Жя Ωδ ğ", 3, 100);
    const [columns, rows, baseline] = [Math.ceil(line.widthMm / pitch.alongMm) + 4, 110, 80];
    const path = line.polygons
      .map((polygon) => `M${polygon.map((mm, i) => mm / 0.05 + (i % 2 ? baseline : 0)).join(" ")}Z`)
      .join("");
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${columns}" height="${rows}"><rect width="100%" height="100%" fill="#fff"/><path d="${path}" fill-rule="nonzero"/></svg>`;
    const { data } = await sharp(Buffer.from(svg))
      .toColourspace("b-w")
      .raw()
      .toBuffer({ resolveWithObject: true });
    const bits = drawn(line, columns, rows, baseline);
    let [clear, wrong, inked] = [0, 0, 0];
    for (const [i, grey] of data.entries()) {
      if (grey > 102 && grey < 153) continue;
      clear++;
      inked += bits[i];
      if ((grey < 128 ? 1 : 0) !== bits[i]) wrong++;
    }
    expect(inked).toBeGreaterThan(3000);
    expect(wrong / clear).toBeLessThan(0.001);
  });

  it("have holes where their outlines turn the other way, and overlaps are filled", () => {
    const square = (from: number, to: number) => [from, from, to, from, to, to, from, to];
    const backwards = (from: number, to: number) => [from, from, from, to, to, to, to, from];
    const row = new Float32Array(10);
    fillRow([square(0, 10), backwards(3, 7)], [0, 5], { alongMm: 1, acrossMm: 1 }, row, 1);
    expect([...row]).toEqual([1, 1, 1, 0, 0, 0, 0, 1, 1, 1]);
    row.fill(0);
    fillRow([square(0, 6), square(4, 9)], [0, 5], { alongMm: 1, acrossMm: 1 }, row, 1);
    expect([...row]).toEqual([1, 1, 1, 1, 1, 1, 1, 1, 1, 0]);
  });

  it("are those of the package's font in all its alphabets", () => {
    expect(textFonts()).toHaveLength(6);
    expect(textLines("Łódź Ωmega Київ ß ₴ – „“ №", 3, 200)).toHaveLength(1);
    expect(refusalOf(() => textLines("Ada ♥ 漢 ♥", 3, 200)).message).toMatch(/"♥漢"/);
  });
});

describe("a text", () => {
  it("has even spaces between its words", () => {
    const width = (text: string): number => textLines(text, 3, 100)[0].widthMm;
    const space = (a: string, b: string): number => width(`${a} ${b}`) - width(a) - width(b);
    expect(space("am", "Hafen")).toBeCloseTo(space("am", "hafen"), 9);
  });

  it("is broken between words where it is too wide, and where it has a line break", () => {
    const [{ widthMm }] = textLines("Ada and Bo", 3, 100);
    expect(textLines("Ada and Bo", 3, widthMm)).toHaveLength(1);
    expect(textLines("Ada and Bo", 3, widthMm - 0.01)).toHaveLength(2);
    const widths = textLines("Ada and\nBo", 3, 100).map((line) => line.widthMm);
    expect(widths[0]).toBeCloseTo(textLines("Ada and", 3, 100)[0].widthMm, 9);
    expect(widths[1]).toBeCloseTo(textLines("Bo", 3, 100)[0].widthMm, 9);
  });

  it("is refused where a word is wider than the piece", () => {
    const error = refusalOf(() => textLines("a Lighthouse", 3, 15));
    expect(error.code).toBe("OPTION_TOO_LARGE");
    expect(error.message).toMatch(/"Lighthouse".*15 mm wide/);
  });
});
