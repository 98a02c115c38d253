import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import type { HalftoneMethod, HalftoneSettings, HalftoneUse } from "../../src/4-halftone/method.js";
import { patchHalftone } from "../../src/4-halftone/patch-halftone.js";
import { seededRandom } from "../../src/core/random.js";
import { whole } from "../reference/arithmetic.js";
import { simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

const SIDE = 64;

/** Tones of all kinds, so that every threshold and every stencil has work. */
const random = seededRandom(3);
const tones = Int16Array.from({ length: SIDE * SIDE }, (_, i) =>
  Math.floor(whole.one * (0.8 * ((i % SIDE) / SIDE) + 0.2 * random())),
);

const bitsOf = (method: HalftoneMethod, settings: HalftoneSettings) =>
  patchHalftone(method, settings, simdMemory)(tones, SIDE, SIDE).bytes;

/** Another value of each setting that only some methods use. */
const changes: Readonly<Record<HalftoneUse, readonly Partial<HalftoneSettings>[]>> = {
  scan: [{ scan: "raster" }],
  seed: [{ seed: 99 }],
  clumping: [{ clumping: 0.3 }],
  screen: [{ screenAngleDeg: 20 }, { screenLinesPerInch: 60 }],
};

// By trial: a setting is used if another value of it changes a bit.
describe.each(halftoneMethods)("$id", (method) => {
  // Spots overlap: only then does dose feedback draw random numbers.
  const settings = halftoneSettings({ spot: { alongMm: 0.2, acrossMm: 0.2 } });
  const usual = bitsOf(method, settings);

  it.each(Object.entries(changes) as [HalftoneUse, readonly Partial<HalftoneSettings>[]][])(
    "says whether it uses %s",
    (use, others) => {
      for (const other of others) {
        const changed = bitsOf(method, { ...settings, ...other });
        expect(Buffer.compare(changed, usual) !== 0, JSON.stringify(other)).toBe(method.uses.includes(use));
      }
    },
  );
});
