import { group } from "../group.js";
import { toggle, word } from "../kinds.js";
import { oneOf } from "../takes.js";

/** The files to write. */
export const outputOptions = group("Output", {
  /** Write only the bitmap and a report without prediction and preview. This is faster. */
  bitmapOnly: toggle(
    "--bitmap-only",
    false,
    "bitmap and report only, no prediction and no preview: for speed",
    { commands: ["prepare", "batch"] },
  ),
  format: word(
    "--format <type>",
    oneOf(["png", "tiff", "bmp"]).default("png"),
    "bitmap file: png, tiff or bmp",
    { commands: ["prepare", "batch"] },
  ),
});
