import { describe, expect, it } from "vitest";
import { codedColours } from "../../src/1-photo/heic/heif-colours.js";

const u16 = (value: number): number[] => [value >> 8, value & 0xff];
const u32 = (value: number): number[] => [...u16(value >>> 16), ...u16(value & 0xffff)];
const box = (type: string, content: readonly number[]): number[] => [
  ...u32(8 + content.length),
  ...Buffer.from(type),
  ...content,
];
const colr = (primaries: number): number[] =>
  box("colr", [...Buffer.from("nclx"), ...u16(primaries), ...u16(13), ...u16(6), 0x80]);

/** Boxes by ISO/IEC 14496-12 and 23008-12: item 1 has the first colours, item 2 the second. */
function heif(primary: number, isLong: boolean): Uint8Array {
  const id = isLong ? u32 : u16;
  const places = (place: number): number[] => (isLong ? u16(0x8000 | place) : [0x80 | place]);
  const links = [1, 2].flatMap((item) => [...id(item), 1, ...places(item + 1)]);
  const version = isLong ? 1 : 0;
  const properties = [
    ...box("ipco", [...box("ispe", u32(0)), ...colr(1), ...colr(12), ...colr(9)]),
    ...box("ipma", [version, 0, 0, isLong ? 1 : 0, ...u32(2), ...links]),
  ];
  const meta = [...u32(0), ...box("pitm", [version, 0, 0, 0, ...id(primary)]), ...box("iprp", properties)];
  return Uint8Array.from([...box("ftyp", [...Buffer.from("heic")]), ...box("meta", meta)]);
}

describe("the code points of a HEIF file", () => {
  it.each([
    [1, false, 1],
    [2, false, 12],
    [1, true, 1],
    [2, true, 12],
  ])("are those of its primary picture: %i, long: %s", (primary, isLong, primaries) => {
    expect(codedColours(heif(primary, isLong))).toEqual({ primaries, transfer: 13 });
  });

  it("are absent if no picture has them, or wherever the file is cut off", () => {
    expect(codedColours(heif(3, false))).toBeUndefined();
    const whole = heif(2, true);
    for (let length = 0; length < whole.length; length++) {
      expect(codedColours(whole.subarray(0, length))?.primaries ?? 12).toBe(12);
    }
  });
});
