import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { erfc } from "../../src/core/physics/erf.js";
import { denseData, plane } from "../../src/core/plane.js";
import { blocking } from "../../src/pipeline/triage/blocking.js";
import { blurSigmaPx } from "../../src/pipeline/triage/blur.js";
import { toneFacts } from "../../src/pipeline/triage/tones.js";
import { photographPath } from "../pipeline/photograph.js";

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

describe("blurSigmaPx", () => {
  it.each([1, 1.5, 2, 3, 4, 6])("finds the spread %f of a Gaussian edge within 12 %%", (sigma) => {
    const found = blurSigmaPx(bars(sigma)) ?? 0;
    expect(Math.abs(found / sigma - 1)).toBeLessThan(0.12);
  });
  it("does not depend on contrast", () => {
    const light = bars(2);
    const faint = plane(
      "encoded-luminance",
      denseData(light).map((code) => 20000 + code / 4),
      400,
      400,
    );
    expect(blurSigmaPx(faint) ?? 0).toBeCloseTo(blurSigmaPx(light) ?? 9, 1);
  });
  it("says nothing of an even picture", () => {
    expect(
      blurSigmaPx(plane("encoded-luminance", new Uint16Array(10000).fill(30000), 100, 100)),
    ).toBeUndefined();
  });
});

describe("blocking", () => {
  it("is 0 on a ramp and the arithmetic ratio on made-up blocks", () => {
    // Steps of 100 within blocks and of 300 between them, both ways: 300/100 − 1.
    const at = (i: number) => 100 * i + 200 * Math.floor((i + 3) / 8);
    const codes = new Uint16Array(96 * 96);
    for (let i = 0; i < codes.length; i++) codes[i] = at(i % 96) + at(Math.floor(i / 96));
    expect(blocking(plane("encoded-luminance", codes, 96, 96))).toBeCloseTo(2, 6);
    const ramp = codes.map((_, i) => 100 * ((i % 96) + Math.floor(i / 96)));
    expect(blocking(plane("encoded-luminance", ramp, 96, 96))).toBe(0);
  });
  it("rises as a photograph is compressed harder", async () => {
    const source = sharp(photographPath("nagasaki-boats")).resize(700);
    const found: number[] = [];
    for (const quality of [95, 60, 30, 10]) {
      found.push(blocking((await decodePhoto(await source.clone().jpeg({ quality }).toBuffer())).luminance));
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
