import { linearFromSrgb, luminanceFromLinearRgb } from "../physics/transfer.js";
import type { ResponsePoints } from "./response.js";

/** Doses are relative to a solid fill. A table with a larger dose is probably in percent. */
const DOSE_LIKE_PERCENT = 10;

/** The checked part of the material data. */
interface Described {
  readonly name: string;
  readonly response: ResponsePoints;
  readonly bareColor: string;
  readonly markedColor: string;
}

/** Something in a material that is allowed but probably a mistake. */
export type MaterialDoubt = { readonly material: string } & (
  | { readonly doubt: "colours-contradict"; readonly marksGrow: "lighter" | "darker" }
  | { readonly doubt: "doses-like-percent"; readonly maxDose: number }
  | { readonly doubt: "no-bare-dose"; readonly firstDose: number }
  | { readonly doubt: "no-solid-dose"; readonly lastDose: number }
);

/** Checks for colours that contradict the response, doses in percent, and missing ends of the table. */
export function materialDoubts({
  name: material,
  response,
  bareColor,
  markedColor,
}: Described): MaterialDoubt[] {
  const [firstDose, bare] = response[0];
  const [lastDose, marked] = response[response.length - 1];
  const doubts: MaterialDoubt[] = [];

  const lightens = marked > bare;
  const shownBare = luminanceOf(bareColor);
  const shownMarked = luminanceOf(markedColor);
  if (shownBare !== shownMarked && lightens !== shownMarked > shownBare) {
    doubts.push({ material, doubt: "colours-contradict", marksGrow: lightens ? "lighter" : "darker" });
  }
  if (lastDose > DOSE_LIKE_PERCENT) {
    doubts.push({ material, doubt: "doses-like-percent", maxDose: lastDose });
  }
  if (firstDose > 0) doubts.push({ material, doubt: "no-bare-dose", firstDose });
  if (lastDose < 1) doubts.push({ material, doubt: "no-solid-dose", lastDose });
  return doubts;
}

/** Relative luminance of `#rrggbb`: IEC 61966-2-1 decoding, BT.709 weights. */
function luminanceOf(hexColor: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) =>
    linearFromSrgb(Number.parseInt(hexColor.slice(at, at + 2), 16) / 255),
  );
  return luminanceFromLinearRgb(red, green, blue);
}
