import { group } from "../option.js";
import { oneOf, trueOrFalse } from "../takes.js";
import * as text from "../text-forms.js";

/** What is written. */
export const outputOptions = group("Output", {
  /** Write the bitmap and a report without prediction and preview: for speed. */
  bitmapOnly: {
    flag: "--bitmap-only",
    text: text.yesOrNo,
    takes: trueOrFalse.default(false),
    help: "bitmap and report only, no prediction and no preview: for speed",
    commands: ["prepare", "batch"],
  },
  format: {
    flag: "--format <type>",
    text: text.plainText,
    takes: oneOf(["png", "tiff", "bmp"]).default("png"),
    help: "bitmap file: png, tiff or bmp",
    commands: ["prepare", "batch"],
  },
});
