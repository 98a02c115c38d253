import { crc32 } from "node:zlib";
import type { Random } from "../../src/core/random.js";
import { below, mutateBytes, oneOf } from "./mutate-bytes.js";

/** A file as the parts that its format is made of, and how they become a file again. */
interface Parts {
  readonly parts: readonly Buffer[];
  readonly join: (parts: readonly Buffer[]) => Buffer;
}

type Format = "jpeg" | "png" | "webp" | "tiff" | "avif" | "heic" | "gif";

/** A change to one part, or to their order: lengths and checksums are made to fit again most of the time, so that the change gets past them. */
export function mutateParts(random: Random, bytes: Buffer, format: Format): Buffer {
  const { parts, join } = partsOf(bytes, format, random() < 0.8);
  if (parts.length < 2) return mutateBytes(random, bytes);
  const at = below(random, parts.length);
  const other = below(random, parts.length);
  const changed = [...parts];
  switch (below(random, 6)) {
    case 0:
      changed.splice(at, 1);
      break;
    case 1:
      changed.splice(other, 0, parts[at]);
      break;
    case 2:
      [changed[at], changed[other]] = [parts[other], parts[at]];
      break;
    default:
      changed[at] = mutateBytes(random, parts[at]);
  }
  return join(changed);
}

function partsOf(bytes: Buffer, format: Format, mended: boolean): Parts {
  if (format === "jpeg") return jpegParts(bytes, mended);
  if (format === "png") return pngParts(bytes, mended);
  if (format === "webp") return boxParts(bytes, mended, WEBP);
  if (format === "avif" || format === "heic") return boxParts(bytes, mended, AVIF);
  return format === "tiff" ? tiffParts(bytes) : gifParts(bytes);
}

/** Marker segments (ITU-T T.81, 1992, annex B): what follows the length of each, and the scans as they are. */
function jpegParts(bytes: Buffer, mended: boolean): Parts {
  const parts: Buffer[] = [];
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff && bytes[at + 1] !== 0xd9) {
    const length = bytes.readUInt16BE(at + 2);
    let end = Math.min(bytes.length, at + 2 + length);
    if (bytes[at + 1] === 0xda) {
      while (
        end + 1 < bytes.length &&
        !(bytes[end] === 0xff && bytes[end + 1] !== 0 && (bytes[end + 1] & 0xf8) !== 0xd0)
      )
        end++;
    }
    parts.push(bytes.subarray(at, end));
    at = end;
  }
  const join = (list: readonly Buffer[]): Buffer => {
    const mendedList = list.map((part) => {
      if (!mended || part.length < 4 || part[0] !== 0xff || part[1] === 0xda) return part;
      const copy = Buffer.from(part);
      copy.writeUInt16BE((part.length - 2) % 65536, 2);
      return copy;
    });
    return Buffer.concat([bytes.subarray(0, 2), ...mendedList, Buffer.from([0xff, 0xd9])]);
  };
  return { parts, join };
}

/** Chunks (W3C, Portable Network Graphics, 2003, section 5): type and data of each. */
function pngParts(bytes: Buffer, mended: boolean): Parts {
  const parts: Buffer[] = [];
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    parts.push(bytes.subarray(at + 4, at + 8 + length));
    at += 12 + length;
  }
  const join = (list: readonly Buffer[]): Buffer =>
    Buffer.concat([
      bytes.subarray(0, 8),
      ...list.flatMap((body) => {
        const [head, tail] = [Buffer.alloc(4), Buffer.alloc(4)];
        head.writeUInt32BE(Math.max(0, body.length - 4));
        tail.writeUInt32BE(mended ? crc32(body) : 0);
        return [head, body, tail];
      }),
    ]);
  return { parts, join };
}

/** Boxes with a length before them or before their content. */
interface BoxForm {
  readonly headBytes: number;
  readonly length: (bytes: Buffer, at: number) => number;
  readonly write: (box: Buffer) => void;
  readonly finish: (file: Buffer) => void;
}

/** RIFF chunks (Google, WebP Container Specification). */
const WEBP: BoxForm = {
  headBytes: 12,
  length: (bytes, at) => 8 + bytes.readUInt32LE(at + 4) + (bytes.readUInt32LE(at + 4) & 1),
  write: (box) => void box.writeUInt32LE(Math.max(0, box.length - 8), 4),
  finish: (file) => void file.writeUInt32LE(Math.max(0, file.length - 8), 4),
};

/** Boxes of the ISO base media file format (ISO/IEC 14496-12). */
const AVIF: BoxForm = {
  headBytes: 0,
  length: (bytes, at) => bytes.readUInt32BE(at),
  write: (box) => void box.writeUInt32BE(box.length, 0),
  finish: () => {},
};

function boxParts(bytes: Buffer, mended: boolean, form: BoxForm): Parts {
  const parts: Buffer[] = [];
  for (let at = form.headBytes; at + 8 <= bytes.length; ) {
    const length = Math.max(8, form.length(bytes, at));
    parts.push(bytes.subarray(at, at + length));
    at += length;
  }
  const join = (list: readonly Buffer[]): Buffer => {
    const boxes = list.map((part) => {
      if (!mended || part.length < 8) return part;
      const copy = Buffer.from(part);
      form.write(copy);
      return copy;
    });
    const file = Buffer.concat([bytes.subarray(0, form.headBytes), ...boxes]);
    if (mended && file.length >= 8) form.finish(file);
    return file;
  };
  return { parts, join };
}

/** Header, directory entries of 12 bytes, and the rest (TIFF 6.0, Adobe, 1992, section 2); little-endian files. */
function tiffParts(bytes: Buffer): Parts {
  const directory = bytes.readUInt32LE(4);
  const count = directory + 2 <= bytes.length ? bytes.readUInt16LE(directory) : 0;
  const from = directory + 2;
  const entries = Array.from({ length: count }, (_, i) => bytes.subarray(from + 12 * i, from + 12 * (i + 1)));
  const parts = [bytes.subarray(0, from), ...entries, bytes.subarray(from + 12 * count)];
  return { parts, join: (list) => Buffer.concat(list) };
}

/** Header with its colours, and blocks that begin with 0x21 or 0x2c (CompuServe, GIF89a, 1990). */
function gifParts(bytes: Buffer): Parts {
  const colours = bytes[10] & 0x80 ? 3 * 2 ** ((bytes[10] & 7) + 1) : 0;
  const parts = [bytes.subarray(0, 13 + colours)];
  let from = 13 + colours;
  for (let at = from + 1; at < bytes.length; at++) {
    if (bytes[at - 1] === 0 && (bytes[at] === 0x21 || bytes[at] === 0x2c)) {
      parts.push(bytes.subarray(from, at));
      from = at;
    }
  }
  parts.push(bytes.subarray(from));
  return { parts, join: (list) => Buffer.concat(list) };
}

const NUMBERS = ["0", "-1", "1e9", "1e-9", "NaN", "1e308", "", "100%", "99999999999", "0x10"] as const;
const WORDS = [
  "<g>",
  "</g>",
  "<svg>",
  "<!--",
  "]]>",
  "&lt;",
  "&#0;",
  "&#x110000;",
  "url(#a)",
  "\u0000",
  '"',
] as const;

/** A change to a text of marks: a number, a name or a piece of it. */
export function mutateText(random: Random, text: string): string {
  const words = text.split(/(-?\d+(?:\.\d+)?|[\w-]+)/);
  const at = below(random, words.length);
  switch (below(random, 4)) {
    case 0:
      words[at] = oneOf(random, NUMBERS);
      break;
    case 1:
      words[at] = oneOf(random, WORDS);
      break;
    case 2:
      words.splice(at, 1 + below(random, 8));
      break;
    default:
      words.splice(at, 0, ...words.slice(below(random, words.length)).slice(0, 40));
  }
  return words.join("");
}
