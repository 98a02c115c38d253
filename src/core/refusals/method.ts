import { didYouMean } from "../nearest-name.js";
import type { Figures, Texts } from "../told.js";
import { refusedAs } from "./entry.js";

type Method = Texts<"method">;

/** Halftone methods that are unknown or do not fit the job. */
export const methodRefusals = {
  ...refusedAs("OPTION_METHOD_UNKNOWN", "method", {
    "method-unknown": ({ method, known }: Method & { readonly known: readonly string[] }, reader) =>
      `${reader.option("method")} "${method}" is not a halftone method.${didYouMean(method, known)} ${reader.list("methods")} lists them.`,
  }),
  ...refusedAs("OPTION_METHOD_GRID", "method", {
    "method-flat-only": ({ method }: Method, reader) =>
      `${reader.option("method")} ${method} is for flat pieces, and this one goes round. Choose another method.`,
    "method-spot-too-wide": ({ method, maxPx, spotPx }: Method & Figures<"maxPx" | "spotPx">, reader) =>
      `${reader.option("method")} ${method} takes spots up to ${maxPx} pixels wide, and here the spot is ${spotPx.toFixed(1)} pixels wide. Lower the density, or choose another method.`,
    "method-grid": (
      {
        method,
        min,
        max,
        ratio,
        linesPerInchAlong,
      }: Method & Figures<"min" | "max" | "ratio" | "linesPerInchAlong">,
      reader,
    ) =>
      `${reader.option("method")} ${method} needs lines ${min.toFixed(2)} to ${max.toFixed(2)} times as far apart as the pixels along them; here the ratio is ${ratio.toFixed(2)}. Set ${reader.option("linesPerInchAlong")} to about ${Math.round(linesPerInchAlong)}.`,
  }),
  ...refusedAs("OPTION_INVALID", "method", {
    "method-searches": ({ method, instead }: Method & { readonly instead: "plan" | "stage" }, reader) =>
      `${reader.option("method")} ${method} goes on from the bitmap of a whole piece. ${
        instead === "plan"
          ? `A plan compares densities without a search: leave ${reader.option("method")} out, and search the piece itself.`
          : "Halftone with another method, then call searchBitmap."
      }`,
  }),
  ...refusedAs("OPTION_INVALID", "surface", {
    "surface-missing": ({ method }: Method, reader) =>
      `${reader.option("method")} ${method} needs the surface that it burns. Give surface a function that returns a surface model.`,
  }),
  ...refusedAs("OPTION_METHOD_LEVELS", "method", {
    "method-levels": (
      { method, levels, able }: Method & { readonly levels: number; readonly able: string },
      reader,
    ) =>
      `${reader.option("method")} ${method} burns dots that are on or off, and cannot use ${levels} power levels. Choose one of ${able}, or leave ${reader.option("levels")} at 2.`,
  }),
};
