import { describe, expect, it } from "vitest";
import { lookUp, tabulate } from "../../src/core/tabulated.js";

describe("tabulated function", () => {
  it("follows a straight line exactly, to single precision", () => {
    const line = tabulate((x) => 3 - 2 * x, -1, 4);
    for (const x of [-1, -0.99999, 0, 0.1234567, 3.999, 4]) {
      expect(Math.abs(lookUp(line, x) - (3 - 2 * x))).toBeLessThan(4e-7);
    }
  });

  it("follows a curve within h²/8 of its second derivative", () => {
    // Error of linear interpolation, any text on numerical analysis; h = 1/65536, |f″| ≤ 1.
    const sine = tabulate(Math.sin, 0, 1);
    for (let i = 0; i < 1000; i++) {
      const x = (i + 0.37) / 1000;
      expect(Math.abs(lookUp(sine, x) - Math.sin(x))).toBeLessThan(1 / (8 * 65536 ** 2) + 6e-8);
    }
  });

  it("meets both ends exactly and stays there beyond", () => {
    const low = 0.1;
    const high = 0.1 + 0.6;
    const ends: number[] = [];
    const table = tabulate(
      (x) => {
        if (x === low || x === high) ends.push(x);
        return x < high ? 0.25 : 0.75;
      },
      low,
      high,
    );
    expect(ends).toContain(low);
    expect(ends).toContain(high);
    expect([lookUp(table, low), lookUp(table, -9)]).toEqual([0.25, 0.25]);
    expect([lookUp(table, high), lookUp(table, 9)]).toEqual([0.75, 0.75]);
  });

  it("is constant over a range of no width", () => {
    const table = tabulate((x) => x, 0.5, 0.5);
    expect([lookUp(table, 0), lookUp(table, 0.5), lookUp(table, 1)]).toEqual([0.5, 0.5, 0.5]);
  });
});
