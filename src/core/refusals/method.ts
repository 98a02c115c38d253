import { didYouMean } from "../nearest-name.js";
import type { RefusalTable } from "./entry.js";

export interface Method {
  readonly method: string;
}

/** Halftone methods that do not exist or do not fit the job. */
export const methodRefusals = {
  "method-unknown": {
    code: "OPTION_METHOD_UNKNOWN",
    option: "method",
    words: ({ method, known }: Method & { readonly known: readonly string[] }, reader) =>
      `${reader.option("method")} "${method}" is not a halftone method.${didYouMean(method, known)} ${reader.list("methods")} lists them.`,
  },
  "method-flat-only": {
    code: "OPTION_METHOD_GRID",
    option: "method",
    words: ({ method }: Method, reader) =>
      `${reader.option("method")} ${method} is for flat pieces, and this one goes round. Choose another method.`,
  },
  "method-spot-too-wide": {
    code: "OPTION_METHOD_GRID",
    option: "method",
    words: ({ method, maxPx, spotPx }: Method & Readonly<Record<"maxPx" | "spotPx", number>>, reader) =>
      `${reader.option("method")} ${method} takes spots up to ${maxPx} pixels wide, and here the spot is ${spotPx.toFixed(1)} pixels wide. Lower the density, or choose another method.`,
  },
  "method-grid": {
    code: "OPTION_METHOD_GRID",
    option: "method",
    words: (
      {
        method,
        min,
        max,
        ratio,
        linesPerInchAlong,
      }: Method & Readonly<Record<"min" | "max" | "ratio" | "linesPerInchAlong", number>>,
      reader,
    ) =>
      `${reader.option("method")} ${method} needs lines ${min.toFixed(2)} to ${max.toFixed(2)} times as far apart as the pixels along them; here the ratio is ${ratio.toFixed(2)}. Set ${reader.option("linesPerInchAlong")} to about ${Math.round(linesPerInchAlong)}.`,
  },
  "method-levels": {
    code: "OPTION_METHOD_LEVELS",
    option: "method",
    words: ({ method, levels, able }: Method & { readonly levels: number; readonly able: string }, reader) =>
      `${reader.option("method")} ${method} burns dots that are on or off, and cannot use ${levels} power levels. Choose one of ${able}, or leave ${reader.option("levels")} at 2.`,
  },
} satisfies RefusalTable;
