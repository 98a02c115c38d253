import { compensate, uncompensatedBurn } from "../../src/5-burn/compensate.js";
import { curveFractions } from "../../src/5-burn/curve-fractions.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { reachableTones, solidLuminance } from "../../src/5-burn/solid-fill.js";
import { createTarget } from "../../src/5-burn/target.js";
import { invertToneCurve, measureToneCurve, type ToneCurve } from "../../src/5-burn/tone-curve.js";
import type { Pitch } from "../../src/core/plane.js";
import { createResponse, type ResponsePoints } from "../../src/core/response.js";
import type { Spot } from "../../src/core/spot.js";
import { mapTabulated, type Tabulated, tabulate } from "../../src/core/tabulated.js";
import { halftoneOf, ideal } from "./burning.js";

/** One halftone × spot × pitches × material, with its tone curve measured at few and small patches, to be quick. */
export function burnJob(points: ResponsePoints, pitch: Pitch, spot: Spot, method: string, patches = 33) {
  const response = createResponse(points);
  const plan = planExposure(pitch, spot, ideal);
  const ends = { bare: response.bare, solid: solidLuminance(plan, response) };
  const range = reachableTones(plan, response);
  const target = createTarget("lightness", range);
  const halftone = halftoneOf(method, pitch, spot);
  const size = { columns: 64, rows: 64, marginPx: 24 };
  const curve: ToneCurve = measureToneCurve(
    curveFractions(response, patches),
    size,
    halftone,
    plan,
    response,
    ends,
  );
  const burnFor: Tabulated = tabulate(invertToneCurve(curve), range.darkest, range.lightest);
  const plainBurnFor = tabulate(uncompensatedBurn(ends.bare, ends.solid), range.darkest, range.lightest);
  return {
    response,
    plan,
    ends,
    range,
    target,
    halftone,
    curve,
    burnFor,
    bits: (wanted: Float32Array, columns: number, rows: number) =>
      halftone(compensate(burnFor, wanted, columns, rows, pitch, spot), columns, rows),
    plainBits: (wanted: Float32Array, columns: number, rows: number) =>
      halftone(mapTabulated(plainBurnFor, wanted), columns, rows),
  };
}
