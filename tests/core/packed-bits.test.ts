import { describe, expect, it } from "vitest";
import {
  bytesPerPackedRow,
  countBurned,
  packBitmap,
  packedRow,
  packRow,
  unpackArea,
  unpackBitmap,
} from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";

describe("packRow", () => {
  // By hand: a burned pixel is 1, the leftmost is the highest bit, the end of the last byte is filled with 0.
  it("packs a row written out by hand", () => {
    const packed = new Uint8Array(2);
    packRow(Uint8Array.of(1, 0, 0, 1, 1, 1, 1, 0, 0, 1, 0), 0, 11, packed, 0);
    expect([...packed]).toEqual([0b10011110, 0b01000000]);
  });

  it("agrees with bits set one by one at every width, and touches nothing else", () => {
    const random = seededRandom(7);
    for (let columns = 1; columns <= 40; columns++) {
      const bits = Uint8Array.from({ length: columns + 3 }, () => (random() < 0.5 ? 1 : 0));
      const before = bits.slice();
      const packed = new Uint8Array(bytesPerPackedRow(columns) + 2).fill(0xaa);
      packRow(bits, 2, columns, packed, 1);
      const text = bits.subarray(2, 2 + columns).join("");
      const bytes = text.match(/.{1,8}/g)?.map((byte) => Number.parseInt(byte.padEnd(8, "0"), 2));
      expect([...packed]).toEqual([0xaa, ...(bytes ?? []), 0xaa]);
      expect(bits).toEqual(before);
    }
  });
});

describe("a packed bitmap", () => {
  const random = seededRandom(3);
  const bits = Uint8Array.from({ length: 13 * 5 }, () => (random() < 0.3 ? 1 : 0));
  const packed = packBitmap(bits, 13, 5);

  it.each([2, 7])("hands out an area as it was, of %i levels", (levels) => {
    const all = bits.map((bit, i) => bit * (levels === 2 ? 1 : i % levels));
    const [left, top, columns, rows] = [3, 1, 9, 4];
    const area = unpackArea(packBitmap(all, 13, 5, levels), { left, top, columns, rows });
    const expected = Array.from(
      { length: columns * rows },
      (_, i) => all[(top + Math.floor(i / columns)) * 13 + left + (i % columns)],
    );
    expect([...area]).toEqual(expected);
  });

  it("comes back as it was", () => {
    expect(unpackBitmap(packed)).toEqual(bits);
  });

  it("counts its burned pixels, and hands out its rows", () => {
    expect(countBurned(packed.bytes)).toBe(bits.reduce((sum, bit) => sum + bit, 0));
    expect(packedRow(packed, 4)).toEqual(packed.bytes.subarray(8, 10));
  });
});
