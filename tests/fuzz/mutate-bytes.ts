import type { Random } from "../../src/core/random.js";

/** A whole number from 0 to below `end`. */
export const below = (random: Random, end: number): number => Math.floor(random() * end);

export const oneOf = <T>(random: Random, list: readonly T[]): T => list[below(random, list.length)];

/** Values that programs are known to stumble over, by width in bytes. */
const EDGES = [0, 1, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x7fffffff, 0x80000000, 0xffffffff] as const;

/** One change to a run of bytes that knows nothing of what they mean. */
export function mutateBytes(random: Random, bytes: Buffer): Buffer {
  if (bytes.length === 0) return Buffer.from([below(random, 256)]);
  const at = below(random, bytes.length);
  const length = 1 + below(random, Math.min(256, bytes.length - at));
  const changed = Buffer.from(bytes);
  switch (below(random, 8)) {
    case 0:
      changed[at] ^= 1 << below(random, 8);
      return changed;
    case 1:
      for (let i = at; i < at + length; i++) changed[i] = below(random, 256);
      return changed;
    case 2:
      return changed.fill(oneOf(random, [0, 0xff]), at, at + length);
    case 3:
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + length)]);
    case 4:
      return Buffer.concat([bytes.subarray(0, at + length), bytes.subarray(at)]);
    case 5:
      return Buffer.concat([
        bytes.subarray(0, at),
        Buffer.from(Array.from({ length }, () => below(random, 256))),
        bytes.subarray(at),
      ]);
    case 6:
      return bytes.subarray(0, at);
    default:
      return withEdge(random, changed, at);
  }
}

/** A number of one, two or four bytes, either end first, replaced by one at an edge of its range. */
export function withEdge(random: Random, bytes: Buffer, at: number): Buffer {
  const value = oneOf(random, EDGES);
  const width = oneOf(
    random,
    [1, 2, 4].filter((w) => at + w <= bytes.length),
  );
  if (width === 1) bytes[at] = value & 0xff;
  else if (random() < 0.5) bytes.writeUIntBE(value % 256 ** width, at, width);
  else bytes.writeUIntLE(value % 256 ** width, at, width);
  return bytes;
}
