import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { findHalftoneMethod, halftoneCodes } from "../../src/4-halftone/halftone.js";
import { fractionCode } from "../../src/core/burn-fraction.js";
import { seededRandom } from "../../src/core/random.js";
import { exact } from "../reference/arithmetic.js";
import { diffuse } from "../reference/textbook-diffusion.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { pfmOf, pgmOf, samplesOf } from "../support/pnm.js";
import { stencil } from "../support/stencil.js";
import { hasTool } from "../support/tool.js";

/*
 * G'MIC's `index` with dithering 1 is Floyd–Steinberg in single precision to the nearest colour of a palette, here n greys.
 * A last line with one value far below and one far above keeps its clamp out of the way: see floyd-steinberg-tools.
 */
describe.skipIf(!hasTool("gmic", ["version"]))("Floyd–Steinberg to n levels, against G'MIC", () => {
  // Numbers of levels whose greys single precision holds exactly.
  it.each([3, 5, 17])("gives the same levels on noise, %i of them", (levels) => {
    const [columns, rows] = [300, 200];
    const random = seededRandom(7);
    const noise = Float32Array.from({ length: columns * rows }, () => random());
    const picture = new Float32Array(columns * (rows + 1));
    picture.set(noise);
    picture.set([-10, 10], columns * rows);
    const folder = mkdtempSync(join(tmpdir(), "spotpitch-"));
    const palette = Array.from({ length: levels }, (_, k) => (k / (levels - 1)).toPrecision(9)).join(",");
    let theirs: Uint8Array;
    try {
      const [input, output] = [join(folder, "in.pfm"), join(folder, "out.pgm")];
      writeFileSync(input, pfmOf(picture, columns, rows + 1));
      execFileSync("gmic", ["-v", "-1", input, `(${palette})`, "-index[0]", "[1],1,0", "-o[0]", output]);
      theirs = Uint8Array.from(samplesOf(readFileSync(output)).subarray(0, columns * rows));
    } finally {
      rmSync(folder, { recursive: true });
    }
    const nextRow = diffuse(stencil("floyd-steinberg"), columns, "raster", "drop", exact, levels);
    const ours = new Uint8Array(columns * rows);
    for (let y = 0; y < rows; y++) {
      const from = y * columns;
      nextRow(noise.subarray(from, from + columns), y, ours.subarray(from, from + columns));
    }
    expect(Math.max(...ours)).toBe(levels - 1);
    expect(Buffer.compare(ours, theirs)).toBe(0);
  });
});

/*
 * ImageMagick's ordered dither to n levels. Its thresholds between two levels are k/(d + 1), ours are (k − ½)/d. So the
 * compared tints have k raised pixels in d; there both agree.
 */
describe.skipIf(!hasTool("convert", ["-version"]))("Bayer to n levels, against ImageMagick", () => {
  it.each([
    [2, 3],
    [2, 6],
    [4, 4],
    [4, 16],
  ] as const)("side %i, %i levels", (side, levels) => {
    const size = side * side;
    const tints = size * (levels - 1);
    const [columns, rows] = [side, side * tints];
    // Slightly above each tint, because ImageMagick rounds down.
    const fractions = Float64Array.from({ length: columns * rows }, (_, i) => Math.floor(i / size) / tints);
    const samples = Uint16Array.from(fractions, (fraction) => Math.ceil(65535 * fraction) + 1);
    const input = pgmOf(samples, columns, rows);
    const greys = execFileSync(
      "convert",
      ["pgm:-", "-ordered-dither", `o${side}x${side},${levels}`, "-depth", "8", "gray:-"],
      { input },
    );
    const theirs = Uint8Array.from(greys, (grey) => Math.round((grey / 255) * (levels - 1)));
    const codes = Int16Array.from(fractions, fractionCode);
    const settings = halftoneSettings({ levels });
    const { bytes } = halftoneCodes(findHalftoneMethod(`bayer-${side}`), { codes, columns, rows }, settings);
    expect(Buffer.compare(bytes, theirs)).toBe(0);
  });
});
