import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { erfc } from "../../src/core/physics/erf.js";
import { columnsOf, denseData, type Plane, plane, rowsOf } from "../../src/core/plane.js";
import { normalDeviate, seededRandom } from "../../src/core/random.js";
import { blocking } from "../../src/pipeline/triage/blocking.js";
import { blurPx, READING } from "../../src/pipeline/triage/blur.js";
import { cellMaps } from "../../src/pipeline/triage/cell-map.js";
import { edgeWidths, slopeOfEdge } from "../../src/pipeline/triage/edge-width.js";
import { grainOf } from "../../src/pipeline/triage/grain.js";
import { spotPicture } from "../../src/pipeline/triage/spot-picture.js";
import { toneFacts } from "../../src/pipeline/triage/tones.js";
import { photographPath } from "../pipeline/photograph.js";
import { original } from "./triage-pictures.js";

/** Vertical bars 40 pixels wide whose edges are Gaussian steps of a known spread, exactly (erf), anywhere between pixels. */
function bars(sigmaPx: number, side = 400) {
  const codes = new Uint16Array(side * side);
  for (let x = 0; x < side; x++) {
    let light = 0.25;
    for (let edge = 17.3, up = 1; edge < side + 60; edge += 40.37, up = -up) {
      light += (up * 0.5 * (2 - erfc((x - edge) / (sigmaPx * Math.SQRT2)))) / 2;
    }
    for (let y = 0; y < side; y++) codes[y * side + x] = Math.round(65535 * light);
  }
  return plane("encoded-luminance", codes, side, side);
}

/** A picture of codes 0..255, one pixel for each spot. */
const mapsOf = (light: Plane<"encoded-luminance", Uint16Array>, by = 1) => {
  const window = { left: 0, top: 0, width: columnsOf(light), height: rowsOf(light) };
  return cellMaps(spotPicture({ luminance: light, window }, { along: by, across: by }), 4);
};

const FWHM_PER_SIGMA = 2.3548;

describe("slopeOfEdge", () => {
  // By brute force: means over pixels of a step blurred by a Gaussian, in the middle of a cell, in all places within a pixel.
  it.each([2, 3, 4, 6, 9])("agrees with an edge %f pixels wide that is sampled", (fwhmPx) => {
    const scale = (fwhmPx / FWHM_PER_SIGMA) * Math.SQRT2;
    const slopes: number[] = [];
    for (let shift = -0.5; shift < 0.5; shift += 0.1) {
      const light = Float64Array.from({ length: 24 }, (_, x) => {
        let sum = 0;
        for (let part = 0.05; part < 1; part += 0.1) sum += 2 - erfc((x + part - 14 - shift) / scale);
        return sum / 20;
      });
      const cell = (from: number) => light.slice(from, from + 4).reduce((sum, value) => sum + value / 4, 0);
      const central = light.slice(2).map((value, x) => (value - light[x]) / 2);
      slopes.push(Math.max(...central) / (cell(16) - cell(8)));
    }
    const mean = slopes.reduce((sum, value) => sum + value / slopes.length, 0);
    expect(Math.abs(slopeOfEdge(fwhmPx) / mean - 1)).toBeLessThan(0.06);
    expect(edgeWidths()(slopeOfEdge(fwhmPx))).toBeCloseTo(fwhmPx, 6);
  });
});

describe("blurPx", () => {
  // Edges alone read as what they are: photographs read READING times their blur.
  it.each([1, 1.5, 2, 3, 4, 6])("finds the spread %f of a Gaussian edge within 20 %%", (sigma) => {
    const found = READING * (blurPx(mapsOf(bars(sigma)), 0) ?? 0);
    expect(Math.abs(found / (FWHM_PER_SIGMA * sigma) - 1)).toBeLessThan(0.2);
  });
  it("does not depend on contrast", () => {
    const light = bars(2);
    const faint = plane(
      "encoded-luminance",
      denseData(light).map((code) => 20000 + code / 4),
      400,
      400,
    );
    expect(blurPx(mapsOf(faint), 0) ?? 0).toBeCloseTo(blurPx(mapsOf(light), 0) ?? 9, 1);
  });
  it("says nothing of an even picture", () => {
    const even = plane("encoded-luminance", new Uint16Array(10000).fill(30000), 100, 100);
    expect(blurPx(mapsOf(even), 0)).toBeUndefined();
  });
});

/** Noise of a standard deviation in 8-bit codes around the middle. */
function noise(codes: number, side = 256) {
  const random = seededRandom(5);
  const light = Uint16Array.from({ length: side * side }, () => 257 * (128 + codes * normalDeviate(random)));
  return plane("encoded-luminance", light, side, side);
}

describe("grainOf", () => {
  const grainBy = (light: Plane<"encoded-luminance", Uint16Array>, by: number) => {
    const window = { left: 0, top: 0, width: columnsOf(light), height: rowsOf(light) };
    const picture = spotPicture({ luminance: light, window }, { along: by, across: by });
    const [fine, coarse] = cellMaps(picture, 2);
    return grainOf(fine, coarse, picture.whiteShares);
  };
  // The mean of an area of n pixels has the spread σ/√n.
  it.each([
    [2, 1],
    [10, 1],
    [10, 2],
    [10, 1.3],
    [10, 1.995],
    [10, 3.7],
  ])("finds white noise of %f codes, and its share in areas %f pixels wide", (codes, by) => {
    const { grain } = grainBy(noise(codes, 400), by);
    expect(Math.abs(grain / (codes / by) - 1)).toBeLessThan(0.1);
  });
  it("has a floor near the noise", () => {
    expect(Math.abs(grainBy(noise(10), 1).floor / 10 - 1)).toBeLessThan(0.15);
  });
  it("takes no texture for noise", async () => {
    const { luminance } = await decodePhoto(await original(photographPath("black-canyon")));
    expect(grainBy(luminance, 1).grain).toBeLessThan(1);
  });
});

describe("spotPicture", () => {
  it("is the mean over areas of the window, by brute force", () => {
    const random = seededRandom(2);
    const codes = Uint16Array.from({ length: 23 * 17 }, () => 65535 * random());
    const window = { left: 1.3, top: 2.6, width: 20.2, height: 13.9 };
    const by = { along: 3.3, across: 2.7 };
    const made = spotPicture({ luminance: plane("encoded-luminance", codes, 17, 23), window }, by);
    expect([made.columns, made.rows]).toEqual([6, 5]);
    // Points so close together that each pixel has many.
    const mean = (x: number, y: number) => {
      let sum = 0;
      for (let v = 0.005; v < 1; v += 0.01) {
        for (let u = 0.005; u < 1; u += 0.01) {
          const column = Math.floor(window.left + (x + u) * by.along);
          sum += codes[23 * Math.floor(window.top + (y + v) * by.across) + column] / 257e4;
        }
      }
      return sum;
    };
    for (let y = 0; y < made.rows; y++) {
      const row = made.row(y);
      for (let x = 0; x < made.columns; x++) expect(Math.abs(row[x] - mean(x, y))).toBeLessThan(1.5);
    }
  });
  it("has no tone where the picture is mostly transparent", () => {
    const opacity = Uint16Array.from({ length: 64 }, (_, i) => (i % 8 < 4 ? 30_000 : 40_000));
    const light = plane("encoded-luminance", new Uint16Array(64).fill(25_700), 8, 8);
    const window = { left: 0, top: 0, width: 8, height: 8 };
    const photo = { luminance: light, opacity: plane("opacity", opacity, 8, 8), window };
    expect([...spotPicture(photo, { along: 4, across: 4 }).row(0)]).toEqual([Number.NaN, 100]);
  });
});

describe("blocking", () => {
  /** Squares by turns lighter and darker by so many codes, both ways. */
  const squares = (side: number, codes: number, size = 384) =>
    plane(
      "encoded-luminance",
      Uint16Array.from({ length: size * size }, (_, i) => {
        const [x, y] = [i % size, Math.floor(i / size)];
        return 257 * (120 + codes * ((Math.floor((x + 3) / side) % 2) + (Math.floor((y + 5) / side) % 2)));
      }),
      size,
      size,
    );
  const whole = { left: 0, top: 0, width: 384, height: 384 };
  const seen = (pxPerMm: number) => ({ pxPerMm, spotMm: 0.1, viewDistanceMm: 300 });

  it.each([6, 8, 12, 13.5, 24])("is the height of the steps between squares of %f pixels", (side) => {
    // A spot of one pixel leaves exp(−π²/8 · (1/side)²) of it (Boreman 2001), and the eye exp(−f/5.96) of f cycles per degree under
    // 50 cd/m² (Näsänen 1984); a degree is 5.236 mm at 300 mm.
    const left = Math.exp(-(Math.PI ** 2) / 8 / side ** 2 - (5.236 * 10) / side / 5.9638);
    expect(Math.abs(blocking(squares(side, 3), whole, seen(10)) / (3 * left) - 1)).toBeLessThan(0.1);
  });
  it("falls with the size of the squares on the piece", () => {
    const [large, small, smallest] = [10, 20, 160].map((pxPerMm) =>
      blocking(squares(8, 6), whole, seen(pxPerMm)),
    );
    expect(small).toBeLessThan(0.5 * large);
    expect(smallest).toBe(0);
  });
  it("is nearly 0 on a ramp, on noise and on a photograph that was never compressed", async () => {
    const ramp = Uint16Array.from({ length: 384 * 384 }, (_, i) => 100 * ((i % 384) + Math.floor(i / 384)));
    expect(blocking(plane("encoded-luminance", ramp, 384, 384), whole, seen(10))).toBeLessThan(0.02);
    expect(blocking(noise(8, 384), whole, seen(10))).toBe(0);
    const { luminance } = await decodePhoto(await original(photographPath("nagasaki-boats")));
    expect(blocking(luminance, { ...whole, width: 1000, height: 780 }, seen(10))).toBeLessThan(0.3);
  });
  it("rises as a photograph is compressed harder", async () => {
    const source = sharp(photographPath("nagasaki-boats")).resize(700);
    const found: number[] = [];
    for (const quality of [95, 60, 30, 10]) {
      const { luminance } = await decodePhoto(await source.clone().jpeg({ quality }).toBuffer());
      found.push(blocking(luminance, { left: 0, top: 0, width: 700, height: rowsOf(luminance) }, seen(10)));
    }
    expect(found).toEqual([...found].sort((a, b) => a - b));
  });
});

describe("toneFacts", () => {
  it("counts ends, flatness and jumps of a made-up picture", () => {
    // 64 columns: 32 by turns black and white, then 32 grey; the step to grey is no jump.
    const codes = Uint16Array.from({ length: 64 * 64 }, (_, i) => (i % 64 < 32 ? 65535 * (i % 2) : 30000));
    const facts = toneFacts(plane("encoded-luminance", codes, 64, 64));
    // Grey pixels find grey 16 to the right, the last 16 to the left.
    expect(facts).toMatchObject({ white: 0.25, black: 0.25, extreme: 0.5, jumps: 31 / 64, flat: 0.5 });
    expect(facts.lightnessRange).toBeGreaterThan(99);
  });
  it("leaves transparent pixels out", () => {
    const codes = Uint16Array.from({ length: 64 }, (_, i) => (i % 8 < 4 ? 0 : 65535));
    const opacity = Uint16Array.from(codes);
    const facts = toneFacts(plane("encoded-luminance", codes, 8, 8), plane("opacity", opacity, 8, 8));
    expect(facts).toMatchObject({ white: 1, black: 0 });
  });
});
