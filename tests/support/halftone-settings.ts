import type { HalftoneSettings } from "../../src/4-halftone/method.js";
import { createSurfaceModel } from "../../src/5-burn/surface-model.js";
import { createResponse } from "../../src/core/material/response.js";
import { gradualPoints } from "./materials.js";

/** 0.1 mm square pixels, serpentine, a 45° screen of 4 × 4 pixel steps, a material that browns steadily. */
const pitch = { alongMm: 0.1, acrossMm: 0.1 };
const spot = { alongMm: 0.1, acrossMm: 0.1 };
const motion = { speedMmPerS: 300, firingLagUs: 0, firingLossUs: 0, lineShiftMm: 0, oneWay: false };
const surface = createSurfaceModel({ pitch, spot, motion }, createResponse(gradualPoints), {
  bare: 0.55,
  solid: 0.08,
});
/** Every file grows a tile once. */
const tiles = new Map();

/** Settings for a halftone test. */
export function halftoneSettings(changes: Partial<HalftoneSettings> = {}): HalftoneSettings {
  return {
    pitch,
    spot,
    scan: "serpentine",
    seed: 1,
    screenLinesPerInch: 45,
    screenAngleDeg: 45,
    clumping: 1,
    levels: 2,
    ringColumns: 0,
    surface: () => surface,
    tiles,
    ...changes,
  };
}
