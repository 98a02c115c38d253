import { expect, it } from "vitest";
import { shareAbove } from "../../src/5-burn/dose-share.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { packBitmap, rowsOfBitmap } from "../../src/core/packed-bits.js";
import { resolveOptions } from "../../src/options/options.js";

const { motion, pitch, spot } = resolveOptions({ linesPerInch: 254, spotMm: 0.1 });
const plan = planExposure(pitch, spot, motion, { refinement: 4 });

/** The lower half of a bitmap burns. */
const halfBurned = (columns: number, rows: number) =>
  rowsOfBitmap(
    packBitmap(
      Uint8Array.from({ length: columns * rows }, (_, i) => (i >= (columns * rows) / 2 ? 1 : 0)),
      columns,
      rows,
    ),
  );

/**
 * Across a solid fill at the matched pitch the dose is √(8/π) · Σ exp(−8 (t − k)²), t in pitches from a line. By brute force: the
 * share of t where it is above a limit.
 */
function shareOfFill(limit: number): number {
  const count = 4000;
  let above = 0;
  for (let i = 0; i < count; i++) {
    const t = (i + 0.5) / count - 0.5;
    let dose = 0;
    for (let k = -4; k <= 4; k++) dose += Math.sqrt(8 / Math.PI) * Math.exp(-8 * (t - k) ** 2);
    if (dose > limit) above++;
  }
  return above / count;
}

it.each([0.5, 1, 1.4])(
  "the share of a half burned piece with a dose above %d is that of a fill, by brute force",
  (limit) => {
    const share = shareAbove({ plan }, halfBurned(160, 200), limit);
    // Some tens of samples to a pitch, and edges of the fill that count a little.
    expect(Math.abs(share - shareOfFill(limit) / 2)).toBeLessThan(0.02);
  },
);

it("is nothing above the dose of line centres, and half of it moves with the speed under the beam", () => {
  expect(shareAbove({ plan }, halfBurned(80, 96), 1.65)).toBe(0);
  const slow = { doseOfRow: () => 1.2 };
  expect(shareAbove({ plan }, halfBurned(80, 96), 1.2, slow)).toBe(
    shareAbove({ plan }, halfBurned(80, 96), 1),
  );
});
