import zlib from "node:zlib";

const POLYNOMIAL = 0xedb88320;

/** Remainder of each byte by the reversed polynomial, made on first use. */
let remainders: Uint32Array | undefined;

/**
 * CRC-32 of `bytes` as PNG and zlib use it, 0..2³²−1. `crc` continues that of the bytes before: 0 at the start.
 * W3C, Portable Network Graphics (PNG) Specification, third edition, 2025, annex D.
 */
export function crc32(bytes: Uint8Array, crc = 0): number {
  // Node has it since 20.15. Ours is for earlier versions.
  return "crc32" in zlib ? (zlib.crc32 as typeof crc32)(bytes, crc) : plainCrc32(bytes, crc);
}

/** The same without zlib. */
export function plainCrc32(bytes: Uint8Array, crc = 0): number {
  remainders ??= Uint32Array.from({ length: 256 }, (_, byte) => {
    let remainder = byte;
    for (let bit = 0; bit < 8; bit++) remainder = (remainder & 1 ? POLYNOMIAL : 0) ^ (remainder >>> 1);
    return remainder;
  });
  let remainder = ~crc;
  for (let i = 0; i < bytes.length; i++) {
    remainder = remainders[(remainder ^ bytes[i]) & 255] ^ (remainder >>> 8);
  }
  return ~remainder >>> 0;
}
