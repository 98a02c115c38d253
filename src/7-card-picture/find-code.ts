import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { prepareZXingModule, type ReadResult, readBarcodes } from "zxing-wasm/reader";
import type { Point } from "./card-view.js";
import type { LightPlane } from "./light-plane.js";

/** A code in a picture. */
export interface FoundCode {
  readonly text: string;
  /** Its corners in pixels of the picture: upper left, upper right, lower right, lower left, as the code is read. */
  readonly corners: readonly Point[];
}

/** Longest sides at which the picture is looked at, in pixels: a code of a card that fills the picture is read at the first. */
const SIDES_PX = [1600, 800, 3200];

/** The codes in a picture, at the first size at which there are any. */
export async function findCodes(picture: LightPlane): Promise<FoundCode[]> {
  await prepare();
  for (const sidePx of SIDES_PX) {
    const factor = Math.max(1, Math.max(picture.columns, picture.rows) / sidePx);
    const { data, width, height } = smallPicture(picture, factor);
    const image = { data, width, height, colorSpace: "srgb" } as Parameters<typeof readBarcodes>[0];
    const found = await readBarcodes(image, { formats: ["QRCode"], tryHarder: true });
    if (found.length > 0) return found.map((each) => inPixels(each, factor));
  }
  return [];
}

function inPixels({ text, position, isMirrored }: ReadResult, factor: number): FoundCode {
  const { topLeft, topRight, bottomRight, bottomLeft } = position;
  // Seen from behind, the reader names the corners as it sees them.
  const corners = isMirrored
    ? [topLeft, bottomLeft, bottomRight, topRight]
    : [topLeft, topRight, bottomRight, bottomLeft];
  return { text, corners: corners.map(({ x, y }) => [(x + 0.5) * factor, (y + 0.5) * factor]) };
}

/** The reader would fetch its program from the network. It has it in its package. */
async function prepare(): Promise<void> {
  const file = createRequire(import.meta.url).resolve("zxing-wasm/reader/zxing_reader.wasm");
  const bytes = await readFile(file);
  const wasmBinary = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  prepareZXingModule({ overrides: { wasmBinary } });
}

/** The picture in grey codes, smaller by a factor: means of light over pixels, and the square root for a rough tone curve. */
function smallPicture({ columns, rows, light }: LightPlane, factor: number) {
  const [width, height] = [Math.floor(columns / factor), Math.floor(rows / factor)];
  const data = new Uint8ClampedArray(4 * width * height);
  for (let y = 0; y < height; y++) {
    const [top, bottom] = [
      Math.floor(y * factor),
      Math.max(Math.floor(y * factor) + 1, Math.floor((y + 1) * factor)),
    ];
    for (let x = 0; x < width; x++) {
      const [left, right] = [
        Math.floor(x * factor),
        Math.max(Math.floor(x * factor) + 1, Math.floor((x + 1) * factor)),
      ];
      let sum = 0;
      for (let v = top; v < bottom; v++) for (let u = left; u < right; u++) sum += light[v * columns + u];
      const code = 255 * Math.sqrt(sum / ((bottom - top) * (right - left)));
      const at = 4 * (y * width + x);
      data[at] = data[at + 1] = data[at + 2] = code;
      data[at + 3] = 255;
    }
  }
  return { data, width, height };
}
