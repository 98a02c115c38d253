import { expect, it } from "vitest";
import type { CardView } from "../../src/7-card-picture/card-view.js";
import { rowWaves, waveHeightMm } from "../../src/7-card-picture/row-waves.js";

const PX_PER_MM = 30;
const view: CardView = {
  ...{ homography: [PX_PER_MM, 0, 0, 0, PX_PER_MM, 0, 0, 0, 1], radial: 0 },
  ...{ middle: [75, 75], halfDiagonalPx: 106 },
};
const patch = { leftMm: 1, topMm: 1, widthMm: 3, heightMm: 3 };
const heightMm = waveHeightMm(patch);
const topMm = patch.topMm + (patch.heightMm - heightMm) / 2;

/** Light by the height in the patch, in mm from where its waves begin. */
function pictureOf(lightAt: (yMm: number, xMm: number) => number) {
  const [columns, rows] = [150, 150];
  const light = Float32Array.from({ length: columns * rows }, (_, i) =>
    lightAt((Math.floor(i / columns) + 0.5) / PX_PER_MM - topMm, ((i % columns) + 0.5) / PX_PER_MM),
  );
  return { columns, rows, light };
}

it("waves of a patch are those of its light in logarithms, and no others", () => {
  const wave = (k: number, yMm: number) => Math.cos((Math.PI * k * yMm) / heightMm);
  const picture = pictureOf((yMm) => 0.3 * Math.exp(0.02 * wave(4, yMm) - 0.03 * wave(6, yMm)));
  const waves = rowWaves(picture, view, patch, 8);
  // The integral of cos² over the height is half of it.
  const scale = Math.sqrt(heightMm / 2);
  [0, 0, 0, 0.02, 0, -0.03, 0, 0].forEach((amplitude, k) => {
    expect(Math.abs(waves[k] - amplitude * scale)).toBeLessThan(0.0006);
  });
});

it("a slope of the light, and what changes along the lines alone, is no wave", () => {
  const picture = pictureOf((yMm, xMm) => 0.3 * Math.exp(0.2 * yMm) * (1 + 0.2 * Math.sin(9 * xMm)));
  for (const wave of rowWaves(picture, view, patch, 8)) expect(Math.abs(wave)).toBeLessThan(0.001);
});

it("a patch that lies outside the picture has no waves", () => {
  const waves = rowWaves(
    pictureOf(() => 0.3),
    view,
    { ...patch, leftMm: 4 },
    3,
  );
  expect([...waves].every(Number.isNaN)).toBe(true);
});
