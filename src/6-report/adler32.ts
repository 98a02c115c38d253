const MODULUS = 65521;

/** Most bytes that can be added before the sums leave 32 bits (RFC 1950 through zlib's NMAX). */
const BYTES_AT_A_TIME = 5552;

/** Adler-32 of `bytes` (RFC 1950, 9). `sum` continues that of the bytes before: 1 at the start. */
export function adler32(bytes: Uint8Array, sum = 1): number {
  let a = sum & 0xffff;
  let b = sum >>> 16;
  for (let i = 0; i < bytes.length; ) {
    const end = Math.min(bytes.length, i + BYTES_AT_A_TIME);
    for (; i < end; i++) {
      a += bytes[i];
      b += a;
    }
    a %= MODULUS;
    b %= MODULUS;
  }
  return ((b << 16) | a) >>> 0;
}
