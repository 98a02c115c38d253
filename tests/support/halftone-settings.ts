import type { HalftoneSettings } from "../../src/4-halftone/method.js";

/** Settings for a halftone test: 0.1 mm square pixels, serpentine, a 45° screen of 4 × 4 pixel steps. */
export function halftoneSettings(changes: Partial<HalftoneSettings> = {}): HalftoneSettings {
  return {
    pitch: { alongMm: 0.1, acrossMm: 0.1 },
    spot: { alongMm: 0.1, acrossMm: 0.1 },
    scan: "serpentine",
    seed: 1,
    screenLinesPerInch: 45,
    screenAngleDeg: 45,
    clumping: 1,
    levels: 2,
    ringColumns: 0,
    ...changes,
  };
}
