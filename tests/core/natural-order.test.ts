import { describe, expect, it } from "vitest";
import { naturalOrder } from "../../src/core/natural-order.js";

describe("the order of names", () => {
  it("counts as people do", () => {
    const names = ["10.jpg", "1.jpg", "2.jpg", "12.jpg", "11.jpg"];
    expect(names.sort(naturalOrder)).toEqual(["1.jpg", "2.jpg", "10.jpg", "11.jpg", "12.jpg"]);
  });

  it("is that of a collator that compares numbers", () => {
    const numbers = ["1", "02", "2", "9", "10", "010", "99999999999999999999", "100000000000000000000"];
    const names = ["boat", "quay"].flatMap((stem) =>
      numbers.flatMap((a) => numbers.map((b) => `${stem}-${a}-${b}`)),
    );
    const { compare } = new Intl.Collator("en", { numeric: true });
    for (const a of names) {
      for (const b of names) {
        const wanted = Math.sign(compare(a, b));
        // It takes 2 and 02 for the same.
        if (wanted !== 0) expect(Math.sign(naturalOrder(a, b)), `${a} | ${b}`).toBe(wanted);
      }
    }
  });

  it("is total: names that count alike differ, and each equals itself", () => {
    expect(naturalOrder("boat-1", "boat-01")).toBe(-naturalOrder("boat-01", "boat-1"));
    expect(naturalOrder("boat-1", "boat-01")).not.toBe(0);
    expect(naturalOrder("boat-1", "boat-1")).toBe(0);
  });
});
