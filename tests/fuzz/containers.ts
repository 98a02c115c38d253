import { crc32 } from "node:zlib";

/** A file taken apart where its format has joints, so that a mutation can leave lengths and checksums right. */
export interface Container {
  readonly parts: readonly Uint8Array[];
  readonly join: (parts: readonly Uint8Array[]) => Uint8Array;
}

const plainJoin = (parts: readonly Uint8Array[]): Uint8Array => Buffer.concat(parts);

/** Lengths of consecutive parts, the rest as the last. */
function cut(bytes: Buffer, lengthAt: (at: number) => number): Buffer[] {
  const parts: Buffer[] = [];
  for (let at = 0; at < bytes.length; ) {
    const length = Math.max(1, Math.min(lengthAt(at), bytes.length - at));
    parts.push(bytes.subarray(at, at + length));
    at += length;
  }
  return parts;
}

/** Chunks without length and checksum, which are made anew. */
function png(bytes: Buffer): Container {
  const signature = bytes.subarray(0, 8);
  const chunks = cut(bytes.subarray(8), (at) => 12 + bytes.readUInt32BE(8 + at));
  return {
    parts: chunks.map((chunk) => chunk.subarray(4, -4)),
    join: (parts) =>
      Buffer.concat([
        signature,
        ...parts.flatMap((part) => [uint32(part.length - 4, "BE"), part, uint32(crc32(part), "BE")]),
      ]),
  };
}

function riff(bytes: Buffer): Container {
  const chunks = cut(bytes.subarray(12), (at) => {
    const length = bytes.readUInt32LE(12 + at + 4);
    return 8 + length + (length % 2);
  });
  return {
    parts: chunks,
    join: (parts) => {
      const body = Buffer.concat(parts);
      return Buffer.concat([
        bytes.subarray(0, 4),
        uint32(body.length + 4, "LE"),
        bytes.subarray(8, 12),
        body,
      ]);
    },
  };
}

/** Segments up to the scan, which is one part with all behind it. */
function jpeg(bytes: Buffer): Container {
  const parts = cut(bytes, (at) => {
    const marker = bytes[at + 1];
    if (bytes[at] !== 0xff || marker === 0xda) return bytes.length;
    return marker === 0xd8 || marker === 0xd9 ? 2 : 2 + bytes.readUInt16BE(at + 2);
  });
  return { parts, join: plainJoin };
}

/** Boxes of the first level. */
const boxes = (bytes: Buffer): Container => ({
  parts: cut(bytes, (at) => (at + 4 <= bytes.length ? bytes.readUInt32BE(at) : 4)),
  join: plainJoin,
});

/** Head, entries of the first directory, everything else. */
function tiff(bytes: Buffer): Container {
  const little = bytes[0] === 0x49;
  const directory = little ? bytes.readUInt32LE(4) : bytes.readUInt32BE(4);
  const entries = little ? bytes.readUInt16LE(directory) : bytes.readUInt16BE(directory);
  const end = directory + 2 + 12 * entries;
  return {
    parts: cut(bytes, (at) => {
      if (at < directory) return directory - at;
      if (at === directory) return 2;
      return at < end ? 12 : bytes.length;
    }),
    join: plainJoin,
  };
}

/** Elements, attributes and the text between. */
const drawing = (bytes: Buffer): Container => ({
  parts: (bytes.toString().match(/[<>/="]|\s+|[^<>/="\s]+/g) ?? []).map((part) => Buffer.from(part)),
  join: plainJoin,
});

/** Values, keys and what divides them, of JSON and CSV alike. */
const text = (bytes: Buffer): Container => ({
  parts: (bytes.toString().match(/[{}[\]:,;"\n]|[^{}[\]:,;"\n]+/g) ?? []).map((part) => Buffer.from(part)),
  join: plainJoin,
});

/** Blocks of no more than 16 bytes, for a format whose blocks are small anyway. */
const blocks = (bytes: Buffer): Container => ({ parts: cut(bytes, () => 16), join: plainJoin });

export const containers = {
  jpeg,
  png,
  webp: riff,
  avif: boxes,
  gif: blocks,
  tiff,
  svg: drawing,
  config: text,
  material: text,
  sheet: text,
} as const;

export type Kind = keyof typeof containers;

function uint32(value: number, order: "BE" | "LE"): Buffer {
  const bytes = Buffer.alloc(4);
  if (order === "BE") bytes.writeUInt32BE(value >>> 0);
  else bytes.writeUInt32LE(value >>> 0);
  return bytes;
}
