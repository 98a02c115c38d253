import { join } from "node:path";
import sharp from "sharp";
import { root, type Tool } from "../job.js";
import { graphicsMagick, imageMagick } from "./magick.js";
import { netpbm } from "./netpbm.js";
import { pillow } from "./pillow.js";
import { writing } from "./writing.js";

export const findTools = (): Tool[] => [pillow(), imageMagick(), graphicsMagick(), netpbm(), sharpAlone()];

function sharpAlone(): Tool {
  const script = join(root, "bench/tools/sharp_job.mjs");
  return {
    name: "sharp",
    version: `${sharp.versions.sharp ?? "unknown"} with libvips ${sharp.versions.vips}`,
    contenders: [
      writing(
        "sharp alone, lanczos3, palette of 2 with dither",
        "palette",
        ({ photo, columns, rows, linesPerInch }, to) => [
          process.execPath,
          script,
          photo.file,
          to,
          ...[columns, rows, linesPerInch].map(String),
        ],
      ),
    ],
  };
}
