import { describe, expect, it } from "vitest";
import { bytesPerPackedRow, packRow } from "../../src/6-report/pack-bits.js";
import { seededRandom } from "../../src/core/random.js";

describe("packRow", () => {
  // By hand: a burned pixel is sample 0, the leftmost is the highest bit, the end of the last byte is filled with 0.
  it("packs a row written out by hand", () => {
    const packed = new Uint8Array(2);
    packRow(Uint8Array.of(1, 0, 0, 1, 1, 1, 1, 0, 0, 1, 0), 0, 11, packed, 0);
    expect([...packed]).toEqual([0b01100001, 0b10100000]);
  });

  it("agrees with bits set one by one at every width, and touches nothing else", () => {
    const random = seededRandom(7);
    for (let columns = 1; columns <= 40; columns++) {
      const bits = Uint8Array.from({ length: columns + 3 }, () => (random() < 0.5 ? 1 : 0));
      const before = bits.slice();
      const packed = new Uint8Array(bytesPerPackedRow(columns) + 2).fill(0xaa);
      packRow(bits, 2, columns, packed, 1);
      const text = Array.from(bits.subarray(2, 2 + columns), (bit) => 1 - bit).join("");
      const bytes = text.match(/.{1,8}/g)?.map((byte) => Number.parseInt(byte.padEnd(8, "0"), 2));
      expect([...packed]).toEqual([0xaa, ...(bytes ?? []), 0xaa]);
      expect(bits).toEqual(before);
    }
  });
});
