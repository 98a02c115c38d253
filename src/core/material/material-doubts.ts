import { rippleDoses } from "../physics/line-dose.js";
import { linearFromSrgb, luminanceFromLinearRgb } from "../physics/transfer.js";
import type { ResponsePoints } from "./response.js";
import { type Departure, departureOf, MAX_PITCH_OVER_SPOT } from "./solve-response.js";

/** The checked part of the material data. */
interface Described {
  readonly name: string;
  readonly response: ResponsePoints;
  readonly bareColor: string;
  readonly markedColor: string;
  readonly referencePitchMm?: number | undefined;
  readonly referenceSpotMm?: number | object | undefined;
  readonly lineExponent?: number | undefined;
  readonly source: string;
}

/** L* that a simulated fill may differ from the table: twice the error of a careful measurement. */
const NOT_REPRODUCED = 2;
/** L* that the ripple of the fills may have shifted their tone: just noticeable. */
const RIPPLE_MATTERS = 1;
/** A spot assumed where none is named: common practice, no source. */
const USUAL_SPOT_MM = 0.1;

/** Something in a material that is allowed but probably a mistake. */
export type MaterialDoubt = { readonly material: string } & (
  | { readonly doubt: "colours-contradict"; readonly marksGrow: "lighter" | "darker" }
  | { readonly doubt: "no-bare-dose"; readonly firstDose: number }
  | { readonly doubt: "no-solid-dose"; readonly lastDose: number }
  | { readonly doubt: "fills-not-reproduced"; readonly dose: number; readonly lightness: number }
  | {
      readonly doubt: "fills-may-ripple";
      readonly pitchMm: number;
      readonly spotMm: number;
      readonly dose: number;
      readonly lightness: number;
    }
  | { readonly doubt: "fills-without-pitch" }
);

/**
 * Checks for colours that contradict the response, missing ends of the table, and ripple of the fills.
 *
 * @param departure of simulated fills from the table, if the response was solved for
 */
export function materialDoubts(described: Described, departure?: Departure): MaterialDoubt[] {
  return [...tableDoubts(described), ...fillDoubts(described, departure)];
}

function tableDoubts({ name: material, response, bareColor, markedColor }: Described): MaterialDoubt[] {
  const [firstDose, bare] = response[0];
  const [lastDose, marked] = response[response.length - 1];
  const doubts: MaterialDoubt[] = [];

  const lightens = marked > bare;
  const shownBare = luminanceOf(bareColor);
  const shownMarked = luminanceOf(markedColor);
  if (shownBare !== shownMarked && lightens !== shownMarked > shownBare) {
    doubts.push({ material, doubt: "colours-contradict", marksGrow: lightens ? "lighter" : "darker" });
  }
  if (firstDose > 0) doubts.push({ material, doubt: "no-bare-dose", firstDose });
  if (lastDose < 1) doubts.push({ material, doubt: "no-solid-dose", lastDose });
  return doubts;
}

function fillDoubts(described: Described, departure: Departure | undefined): MaterialDoubt[] {
  const {
    name: material,
    response,
    referencePitchMm: pitchMm,
    referenceSpotMm,
    lineExponent,
    source,
  } = described;
  if (departure) {
    const differs = departure.lightness > NOT_REPRODUCED;
    return differs ? [{ material, doubt: "fills-not-reproduced", ...departure }] : [];
  }
  if (referenceSpotMm !== undefined) return [{ material, doubt: "fills-without-pitch" }];
  if (pitchMm === undefined || !/^measured\b/i.test(source)) return [];
  const shift = departureOf(
    response,
    response,
    rippleDoses(Math.min(MAX_PITCH_OVER_SPOT, pitchMm / USUAL_SPOT_MM), lineExponent),
  );
  if (shift.lightness <= RIPPLE_MATTERS) return [];
  return [{ material, doubt: "fills-may-ripple", pitchMm, spotMm: USUAL_SPOT_MM, ...shift }];
}

/** Relative luminance of `#rrggbb`: IEC 61966-2-1 decoding, BT.709 weights. */
function luminanceOf(hexColor: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) =>
    linearFromSrgb(Number.parseInt(hexColor.slice(at, at + 2), 16) / 255),
  );
  return luminanceFromLinearRgb(red, green, blue);
}
