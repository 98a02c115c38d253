/*
 * Held tones against pieces whose dose varies at random, engraved one by one.
 */
import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { tonalResolution } from "../../src/5-burn/tonal-resolution.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse, type ResponsePoints } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import type { Spread } from "../../src/core/spread.js";
import { halftoneOf, ideal, meanOver, round, simdMemory, square } from "./burning.js";
import { directApertureMeans, everyPlace } from "./direct-apertures.js";
import { countDirectly, DETAIL_SIDES_MM, lightness, variance } from "./direct-tones.js";
import { burnVaried } from "./varied-dose.js";

/** So many points that straight lines between them are the response itself. */
const pointsOf = (luminance: (dose: number) => number): ResponsePoints =>
  Array.from({ length: 161 }, (_, k) => [k / 100, luminance(k / 100)]);
const gradual = pointsOf((dose) => 0.6 - 0.3375 * dose);
/** A coating that goes from nine tenths to one tenth between doses of 0.25 and 0.45. */
const steep = pointsOf((dose) => 0.05 + 0.55 / (1 + Math.exp(22 * (dose - 0.35))));

describe("held tones by brute force", () => {
  const MARGIN_PX = 24;
  /** Of each tint. The deviation between their apertures is then known within about 3 %. */
  const PIECES = 4;
  const fractions = [0.05, 0.2, 0.4, 0.6, 0.8, 0.95];

  it.each([
    {
      method: "floyd-steinberg",
      surface: "gradual",
      points: gradual,
      pitchMm: 0.05,
      parts: { local: 0.1, line: 0 },
    },
    {
      method: "floyd-steinberg",
      surface: "gradual",
      points: gradual,
      pitchMm: 0.05,
      parts: { local: 0, line: 0.2 },
    },
    {
      method: "green-noise",
      surface: "steep",
      points: steep,
      pitchMm: 0.05,
      parts: { local: 0.08, line: 0.08 },
    },
    {
      method: "clustered-dot",
      surface: "steep",
      points: steep,
      pitchMm: 0.1,
      parts: { local: 0.08, line: 0.08 },
    },
  ])("of $method, $surface material, varied by $parts", ({ method, points, pitchMm, parts }) => {
    const spread: Spread = { ...{ common: 0, localLengthMm: 0.2, spot: 0 }, ...parts };
    const [pitch, spot] = [square(pitchMm), round(0.115)];
    const halftone = halftoneOf(method, pitch, spot);
    const exposure = {
      plan: planExposure(pitch, spot, ideal, { refinement: 2 }),
      response: createResponse(points),
      memory: simdMemory,
    };
    const tones = tonalResolution(exposure, halftone, fractions, { pitch, spot }, spread);
    const random = seededRandom(29);
    const side = Math.ceil(6 / pitchMm);
    const columns = side + 2 * MARGIN_PX;
    const tints = fractions.map((fraction) => {
      const codes = new Int16Array(columns * columns).fill(Math.round(fraction * FRACTION_ONE));
      const bits = unpackBitmap(halftone(codes, columns, columns));
      const piece = { bits, columns, marginPx: MARGIN_PX, points, pitch, spot };
      const pieces = Array.from({ length: PIECES }, () => burnVaried(piece, spread, random));
      const grains = DETAIL_SIDES_MM.map((sideMm) => {
        const aperture = sideMm / pitchMm;
        const places = everyPlace(side, side, aperture, aperture).filter((_, n) => n % 11 === 0);
        const seen = pieces.flatMap((piece) => directApertureMeans(piece, side, aperture, aperture, places));
        return Math.sqrt(variance(seen.map(lightness)));
      });
      return { lightness: lightness(meanOver(pieces.map(meanOver))), slope: 0, grains };
    });
    let varied = 1;
    tones.forEach(({ detailMm, nominal, held }, k) => {
      const direct = countDirectly(tints, k, 0);
      expect(Math.abs(held / direct - 1), `${detailMm} mm`).toBeLessThan(0.05);
      varied = Math.min(varied, held / nominal);
    });
    expect(varied).toBeLessThan(0.95);
  });
});
