import { expect, it } from "vitest";
import { eyeKernel } from "../../src/4-search/eye-kernel.js";
import { EyePlanes } from "../../src/5-burn/eye-planes.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { eyeDecayCyclesPerDegree, perMmFromCyclesPerDegree } from "../../src/core/physics/modulation.js";

const SIDE = 128;

it.each([
  { alongMm: 0.05, acrossMm: 0.05 },
  { alongMm: 0.04, acrossMm: 0.06 },
])("is what the eye's filter leaves of a point when it is applied twice: %o", (pitch) => {
  const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };
  const decayPerMm = perMmFromCyclesPerDegree(eyeDecayCyclesPerDegree(50), viewing.distanceMm);
  const { seen, seenRight, seenDown, reachAlong } = eyeKernel(pitch, decayPerMm, { along: 5, across: 5 });
  const point = new Float32Array(SIDE * SIDE);
  const middle = SIDE / 2;
  point[middle * SIDE + middle] = 1;
  const eye = new EyePlanes({ memory: createKernelMemory(), pitch, viewing }, 256);
  const plane = { data: point, from: 0, stride: SIDE };
  for (let n = 0; n < 2; n++) eye.blur([plane, plane], { columns: SIDE, rows: SIDE }, [point, point]);
  const at = (right: number, down: number) => point[(middle + down) * SIDE + middle + right];
  for (const [right, down] of [
    [0, 0],
    [3, 0],
    [0, 5],
    [7, 2],
    [12, 12],
  ]) {
    const k = down * (reachAlong + 1) + right;
    // The filtered square repeats after 256 pixels, which adds a little everywhere.
    expect(Math.abs(seen[k] - at(right, down))).toBeLessThan(0.004 * seen[0]);
    const byRight = (at(right - 1, down) - at(right + 1, down)) / 2;
    const byDown = (at(right, down - 1) - at(right, down + 1)) / 2;
    // A difference over two pixels, near a peak that is five pixels wide.
    expect(Math.abs(seenRight[k] - byRight)).toBeLessThan(0.004 * seen[0] + 0.08 * seenRight[k]);
    expect(Math.abs(seenDown[k] - byDown)).toBeLessThan(0.004 * seen[0] + 0.08 * seenDown[k]);
  }
});

it("reaches from side to side of the largest change", () => {
  const { reachAlong, reachAcross, seen } = eyeKernel({ alongMm: 0.5, acrossMm: 0.5 }, 1, {
    along: 7,
    across: 4,
  });
  expect([reachAlong, reachAcross]).toEqual([7, 4]);
  expect(seen.length).toBe(8 * 5);
});
