import { describe, expect, it } from "vitest";
import { adler32 } from "../../src/6-report/adler32.js";
import { crc32, plainCrc32 } from "../../src/6-report/crc32.js";

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

describe("adler32", () => {
  // By hand from RFC 1950, 9: of "abc", a = 1 + 97 + 98 + 99 = 295, b = 98 + 196 + 295 = 589.
  it("gives what the definition gives, and 1 for nothing", () => {
    expect(adler32(ascii("abc"))).toBe(589 * 65536 + 295);
    expect(adler32(ascii(""))).toBe(1);
  });

  it("continues, and does not run over with many large bytes", () => {
    const bytes = new Uint8Array(20011).fill(255);
    let [a, b] = [1n, 0n];
    for (const byte of bytes) {
      a = (a + BigInt(byte)) % 65521n;
      b = (b + a) % 65521n;
    }
    expect(BigInt(adler32(bytes))).toBe(b * 65536n + a);
    expect(adler32(bytes.subarray(7000), adler32(bytes.subarray(0, 7000)))).toBe(adler32(bytes));
  });
});
