import { writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { batchFlags } from "../../src/cli/batch/flags.js";
import { pieceOptions } from "../../src/cli/batch/jobs.js";
import { readSheet } from "../../src/cli/batch/sheet.js";
import { readOptions } from "../../src/cli/read-options.js";
import {
  decodePhoto,
  drawingDanger,
  inspectPhoto,
  isCompressed,
  resolveOptions,
  triagePhoto,
} from "../../src/index.js";
import type { Kind } from "./containers.js";

const options = resolveOptions({ widthMm: 20 });
const MOST_PIXELS = 4e6;

/** What a worker does with an upload up to its halftone. */
async function takeUpload(bytes: Uint8Array): Promise<void> {
  if (isCompressed(bytes)) return;
  const facts = await inspectPhoto(bytes, { mostPixels: MOST_PIXELS });
  if (facts.format === "svg" && drawingDanger(bytes) !== undefined) return;
  await triagePhoto(await decodePhoto(bytes, { mostPixels: MOST_PIXELS }), options);
}

/** Give mutated bytes to what reads such files. Rejects with what that throws. */
export async function take(kind: Kind, bytes: Uint8Array, folder: string): Promise<void> {
  if (kind !== "config" && kind !== "material" && kind !== "sheet") return takeUpload(bytes);
  const file = join(folder, `${kind}.${kind === "sheet" ? "csv" : "json"}`);
  writeFileSync(file, bytes);
  if (kind === "sheet") {
    for (const row of await readSheet(file)) {
      resolveOptions(pieceOptions((await readOptions(batchFlags, new Map(), undefined, row)).options));
    }
    return;
  }
  const asked =
    kind === "config"
      ? await readOptions(batchFlags, new Map(), file)
      : await readOptions(batchFlags, new Map([["material", file]]), undefined);
  resolveOptions(pieceOptions(asked.options));
}

/** A small valid file of every kind. */
export async function validFiles(): Promise<Map<Kind, Buffer>> {
  const [width, height] = [72, 48];
  const pixels = Buffer.alloc(4 * width * height);
  for (let i = 0; i < pixels.length; i++)
    pixels[i] = 255 * (0.5 + 0.5 * Math.sin(i / 37) * Math.cos(i / 991));
  const picture = sharp(pixels, { raw: { width, height, channels: 4 } })
    .withMetadata({ orientation: 6 })
    .keepIccProfile();
  const raster = async (format: "jpeg" | "png" | "webp" | "avif" | "gif" | "tiff") =>
    [
      format,
      await picture
        .clone()
        .toFormat(format, format === "avif" ? { effort: 0 } : {})
        .toBuffer(),
    ] as const;
  return new Map<Kind, Buffer>([
    await raster("jpeg"),
    await raster("png"),
    await raster("webp"),
    await raster("avif"),
    await raster("gif"),
    await raster("tiff"),
    [
      "svg",
      Buffer.from(
        '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30"><style>.a{fill:#000}</style><g transform="rotate(5)"><path class="a" d="M0 0L20 9C3 4 5 6 7 8z"/></g><text x="3" y="20" font-size="6">Quay</text></svg>',
      ),
    ],
    [
      "config",
      Buffer.from(
        '{"width": "80mm", "density": 254, "spot": "0.08x0.15mm", "material": {"name": "m", "response": [[0, 0.62], [1, 0.09]], "bareColor": "#e3c9a0", "markedColor": "#3a2415", "source": "illustrative"}, "mirror": true, "crop": "10%,10%,80%,80%", "method": "auto", "workers": 2, "names": "{stem}"}',
      ),
    ],
    [
      "material",
      Buffer.from(
        '{"name": "pale maple", "response": [[0, 0.62], [0.25, 0.60], [0.5, 0.36], [1, 0.09]], "bareColor": "#e3c9a0", "markedColor": "#3a2415", "referencePitchMm": 0.1, "source": "illustrative", "hazards": ["smoke"]}',
      ),
    ],
    [
      "sheet",
      Buffer.from(
        'file,note,width,material,mirror,density\nboat.jpg,"for Ada, the blue one",80mm,slate,yes,254\nnets.png,,40,maple,no,\n',
      ),
    ],
  ]);
}
