import { describe, expect, it } from "vitest";
import { crc32 } from "../../src/6-report/crc32.js";

const ascii = (text: string): Uint8Array => Buffer.from(text, "latin1");

describe("crc32", () => {
  // Ross N. Williams, "A painless guide to CRC error detection algorithms", 1993: check value of CRC-32.
  it("gives the published check value", () => {
    expect(crc32(ascii("123456789"))).toBe(0xcbf43926);
  });

  it("continues from the bytes before", () => {
    expect(crc32(ascii("6789"), crc32(ascii("12345")))).toBe(0xcbf43926);
    expect(crc32(ascii(""))).toBe(0);
  });
});
