import { describe, expect, it } from "vitest";
import { materialPainter } from "../../../src/6-report/pictures/appearance.js";
import { eraseDashes } from "../../../src/6-report/pictures/enlarged-part.js";
import { composePreview, pieceOnPreview } from "../../../src/6-report/pictures/preview.js";
import { plane } from "../../../src/core/plane.js";

const paint = materialPainter("#c0c0c0", "#303030", 1, 0);

/** A preview of a flat piece of 500 × 400 pixels with a fine chequered patch, where the enlarged part is then taken. */
function previewWith(patch: { readonly x: number; readonly y: number }, perPixel: number) {
  const [columns, rows] = [500, 400];
  const luminance = new Float32Array(columns * rows).fill(0.5);
  for (let y = patch.y; y < patch.y + 12; y++)
    for (let x = patch.x; x < patch.x + 12; x++) luminance[y * columns + x] = (x + y) % 2 ? 0.9 : 0.1;
  const size = {
    ...{ burnColumns: columns * perPixel, burnRows: rows * perPixel },
    ...{ widthMm: 50, heightMm: 40 },
  };
  const preview = composePreview({
    ...size,
    piece: plane("luminance-factor", luminance, rows, columns),
    levels: 2,
    crop: (part) => ({
      pixels: new Uint8Array(part.columns * part.rows),
      predicted: new Float32Array(part.columns * part.rows).fill(0.5),
    }),
    paint,
  });
  return { preview, size, luminance, place: pieceOnPreview({ columns, rows }) };
}

type Made = ReturnType<typeof previewWith>;

/** Pixels of the flat surface that differ from what was painted there. In the patch, the frame hides what it hides. */
function different({ preview, luminance, place }: Made): number {
  const wanted = new Uint8Array(3);
  paint(0.5, wanted, 0);
  let found = 0;
  for (let y = 0; y < place.rows; y++) {
    for (let x = 0; x < place.columns; x++) {
      if (luminance[y * place.columns + x] !== 0.5) continue;
      const at = 3 * ((place.top + y) * preview.columns + place.left + x);
      if (preview.rgb[at] !== wanted[0]) found++;
    }
  }
  return found;
}

describe("the dashed frame on the piece", () => {
  // Two and four burn pixels for each pixel of the screen, so that frames are 51 and 26 pixels wide; and patches at edges of the piece.
  it.each([
    [{ x: 240, y: 200 }, 2],
    [{ x: 240, y: 200 }, 4],
    [{ x: 0, y: 0 }, 2],
    [{ x: 488, y: 388 }, 2],
    [{ x: 488, y: 0 }, 4],
  ])("is painted over with what lies beside it: a patch at %j, %i burn pixels each", (patch, perPixel) => {
    const made = previewWith(patch, perPixel);
    expect(different(made)).toBeGreaterThan(40);
    eraseDashes(made.preview, made.place, made.size);
    expect(different(made)).toBe(0);
  });

  it("leaves a piece without one as it is", () => {
    const made = previewWith({ x: 240, y: 200 }, 2);
    eraseDashes(made.preview, made.place, made.size);
    const before = made.preview.rgb.slice();
    eraseDashes(made.preview, made.place, made.size);
    expect(Buffer.compare(made.preview.rgb, before)).toBe(0);
  });
});
