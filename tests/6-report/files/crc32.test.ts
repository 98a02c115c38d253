import { describe, expect, it } from "vitest";
import { crc32, plainCrc32 } from "../../../src/6-report/files/crc32.js";

const ascii = (text: string): Uint8Array => Buffer.from(text, "latin1");

describe.each([
  ["crc32", crc32],
  ["plainCrc32", plainCrc32],
])("%s", (_, checksum) => {
  // Ross N. Williams, "A painless guide to CRC error detection algorithms", 1993: check value of CRC-32.
  it("gives the published check value", () => {
    expect(checksum(ascii("123456789"))).toBe(0xcbf43926);
  });

  it("continues from the bytes before", () => {
    expect(checksum(ascii("6789"), checksum(ascii("12345")))).toBe(0xcbf43926);
    expect(checksum(ascii(""))).toBe(0);
  });
});
