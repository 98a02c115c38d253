import type { PrepareOptions } from "../../src/index.js";

/** A piece of which a pixel burns if the photo is darker than half there: for checks of where things lie. */
export const PLAIN: PrepareOptions = {
  linesPerInch: 127,
  spotMm: 0.2,
  method: "threshold",
  compensate: false,
  autoTone: false,
  toneMap: "luminance",
  bitmapOnly: true,
};
