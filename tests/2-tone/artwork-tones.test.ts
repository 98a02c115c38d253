import { describe, expect, it } from "vitest";
import { artworkTable, artworkTones } from "../../src/2-tone/artwork-tones.js";

const SIDE = 40;
const code = (eightBit: number): number => eightBit * 257;

/** A square of 20 pixels in one tone on another; a softened rim of one pixel between them. */
function square(ink: number, paper: number): Uint16Array {
  return Uint16Array.from({ length: SIDE * SIDE }, (_, i) => {
    const off = Math.max(Math.abs((i % SIDE) - 19.5), Math.abs(Math.floor(i / SIDE) - 19.5));
    return code(off < 10 ? ink : off < 11 ? Math.round((ink + paper) / 2) : paper);
  });
}

describe("the two tones of a drawing", () => {
  it("are those of its flat areas, dark the ink where engraving darkens, light where it lightens", () => {
    const wood = artworkTones(square(30, 230), undefined, SIDE, true, false);
    expect(wood).toMatchObject({ bareCode: code(230), inkCode: code(30), both: true });
    const slate = artworkTones(square(230, 30), undefined, SIDE, false, false);
    expect(slate).toMatchObject({ bareCode: code(30), inkCode: code(230), both: true });
    // The rim: 4 · 21 of 1600 pixels.
    expect(wood.between).toBeCloseTo(84 / 1600, 12);
  });

  it("turn the tones of softened pixels into the share that they are covered", () => {
    const table = artworkTable(artworkTones(square(40, 240), undefined, SIDE, true, false), true);
    // Drawing programs mix in sRGB: a pixel covered by three quarters is 240 − ¾ · 200.
    expect(table[code(240)]).toBe(1);
    expect(table[code(90)]).toBeCloseTo(0.25, 3);
    expect(table[code(140)]).toBeCloseTo(0.5, 3);
    expect(table[code(40)]).toBe(0);
    expect(table[code(0)]).toBe(0);
    expect(table[code(255)]).toBe(1);
  });

  it("are black and white where only strokes thinner than a flat area show one of them", () => {
    // A line of one pixel, two thirds covered: it has no flat tone.
    const line = Uint16Array.from({ length: SIDE * SIDE }, (_, i) => code(i % SIDE === 20 ? 85 : 255));
    const tones = artworkTones(line, undefined, SIDE, true, false);
    expect(tones).toMatchObject({ bareCode: 65535, inkCode: 0, both: true });
    expect(artworkTable(tones, true)[code(85)]).toBeCloseTo(1 / 3, 3);
  });

  it("count transparency as bare", () => {
    const opacity = Uint16Array.from(square(255, 0), (value) => value);
    const blue = new Uint16Array(SIDE * SIDE).fill(code(110));
    expect(artworkTones(blue, opacity, SIDE, true, false)).toMatchObject({
      bareCode: 65535,
      inkCode: code(110),
    });
  });

  it.each([
    [40, true],
    [40, false],
    [240, true],
    [240, false],
  ])(
    "take what is drawn in one tone on transparency, %d, for ink, whichever burns: dark %s",
    (tone, dark) => {
      const opacity = Uint16Array.from(square(255, 0), (value) => value);
      const drawn = new Uint16Array(SIDE * SIDE).fill(code(tone));
      const tones = artworkTones(drawn, opacity, SIDE, dark, false);
      expect(tones).toMatchObject({ bareCode: tone === 40 ? 65535 : 0, inkCode: code(tone), both: true });
      expect(artworkTable(tones, dark)[code(tone)]).toBe(dark ? 0 : 1);
    },
  );

  it("are told by light and dark again where several are drawn on transparency", () => {
    const opacity = new Uint16Array(SIDE * SIDE).fill(65535);
    opacity.fill(0, 0, 3 * SIDE);
    expect(artworkTones(square(30, 230), opacity, SIDE, false, false).inkCode).toBe(code(230));
    expect(artworkTones(square(30, 230), opacity, SIDE, true, false).inkCode).toBe(code(30));
  });

  it("of a picture of a single tone are black and white, and it is all one or the other", () => {
    for (const [tone, ink] of [
      [110, 0],
      [150, 1],
    ]) {
      const tones = artworkTones(new Uint16Array(SIDE * SIDE).fill(code(tone)), undefined, SIDE, true, false);
      expect(tones.both).toBe(false);
      expect(artworkTable(tones, true)[code(tone)]).toBe(ink);
    }
  });

  it("are black and white where tones are to be left as they are", () => {
    const tones = artworkTones(square(80, 200), undefined, SIDE, true, true);
    expect(tones).toMatchObject({ bareCode: 65535, inkCode: 0 });
    expect(artworkTable(tones, true)[code(51)]).toBeCloseTo(0.2, 3);
  });
});
