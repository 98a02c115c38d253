import { deflateSync } from "node:zlib";
import { crc32 } from "../../src/6-report/files/crc32.js";

/** Files written byte by byte, so that what is in them is known without the decoder's own encoders. */

const bytesOf = (text: string): Buffer => Buffer.from(text, "latin1");

function uint32(...values: number[]): Buffer {
  const bytes = Buffer.alloc(4 * values.length);
  values.forEach((value, i) => {
    bytes.writeUInt32BE(value, 4 * i);
  });
  return bytes;
}

function chunk(type: string, data: Uint8Array): Buffer {
  const named = Buffer.concat([bytesOf(type), data]);
  return Buffer.concat([uint32(data.length), named, uint32(crc32(named))]);
}

/** PNG colour types (W3C PNG, table 11.1) and their samples per pixel. */
const pngTypes = { grey: [0, 1], rgb: [2, 3], palette: [3, 1], greyAlpha: [4, 2], rgba: [6, 4] } as const;

export interface PngContent {
  readonly type: keyof typeof pngTypes;
  readonly bits: 8 | 16;
  readonly columns: number;
  readonly rows: number;
  readonly samples: readonly number[];
  readonly palette?: readonly number[];
  /** The tRNS chunk. */
  readonly transparency?: readonly number[];
  readonly profile?: Uint8Array;
}

export function pngFile({
  type,
  bits,
  columns,
  rows,
  samples,
  palette,
  transparency,
  profile,
}: PngContent): Buffer {
  const [colourType, perPixel] = pngTypes[type];
  const bytesPerSample = bits / 8;
  const stride = columns * perPixel * bytesPerSample;
  const data = Buffer.alloc(rows * (1 + stride));
  for (let y = 0, at = 0; y < rows; y++) {
    for (let x = 0; x < columns * perPixel; x++, at++) {
      data.writeUIntBE(samples[at], y * (1 + stride) + 1 + x * bytesPerSample, bytesPerSample);
    }
  }
  return Buffer.concat([
    bytesOf("\x89PNG\r\n\x1a\n"),
    chunk("IHDR", Buffer.concat([uint32(columns, rows), Buffer.from([bits, colourType, 0, 0, 0])])),
    ...(profile ? [chunk("iCCP", Buffer.concat([bytesOf("test\0\0"), deflateSync(profile)]))] : []),
    ...(palette ? [chunk("PLTE", Buffer.from(palette))] : []),
    ...(transparency ? [chunk("tRNS", Buffer.from(transparency))] : []),
    chunk("IDAT", deflateSync(data)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

/** A PNG of a few bytes that declares a size and holds almost nothing. */
export function hollowPng(columns: number, rows: number): Buffer {
  return Buffer.concat([
    bytesOf("\x89PNG\r\n\x1a\n"),
    chunk("IHDR", Buffer.concat([uint32(columns, rows), Buffer.from([8, 0, 0, 0, 0])])),
    chunk("IDAT", deflateSync(Buffer.alloc(100))),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

type Triple = readonly [number, number, number];

const fixed = (value: number): number => Math.round(value * 65536);
const xyz = ([x, y, z]: Triple): Buffer =>
  Buffer.concat([bytesOf("XYZ \0\0\0\0"), uint32(fixed(x), fixed(y), fixed(z))]);

/** A pure power curve, as an ICC `curv` element of one u8Fixed8 number. */
const power = (gamma: number): Buffer => {
  const exponent = Math.round(gamma * 256);
  return Buffer.concat([
    bytesOf("curv\0\0\0\0"),
    uint32(1),
    Buffer.from([exponent >> 8, exponent & 255, 0, 0]),
  ]);
};

/** ICC.1:2001 profile with the given colour space ("RGB " or "GRAY") and elements, 4-byte aligned. */
function profile(space: string, elements: readonly (readonly [string, Buffer])[]): Buffer {
  const text = bytesOf("text\0\0\0\0no copyright\0\0\0\0");
  const description = Buffer.concat([
    bytesOf("desc\0\0\0\0"),
    uint32(5),
    bytesOf("test\0"),
    Buffer.alloc(79),
  ]);
  const all = [...elements, ["desc", description], ["cprt", text]] as const;
  let offset = 128 + 4 + 12 * all.length;
  const table: Buffer[] = [uint32(all.length)];
  for (const [name, data] of all) {
    table.push(bytesOf(name), uint32(offset, data.length));
    offset += data.length;
  }
  const header = Buffer.alloc(128);
  header.writeUInt32BE(offset, 0);
  header.writeUInt32BE(0x02400000, 8);
  header.write(`mntr${space}XYZ `, 12, "latin1");
  header.write("acsp", 36, "latin1");
  xyz(d50).copy(header, 68, 8);
  return Buffer.concat([header, ...table, ...all.map(([, data]) => data)]);
}

/** White of the profile connection space. Source: ICC.1. */
const d50: Triple = [0.9642, 1, 0.8249];

/** Three colourants, relative to D50, and one power curve. */
export function rgbProfile(red: Triple, green: Triple, blue: Triple, gamma: number): Buffer {
  const curve = power(gamma);
  return profile("RGB ", [
    ["wtpt", xyz(d50)],
    ["rXYZ", xyz(red)],
    ["gXYZ", xyz(green)],
    ["bXYZ", xyz(blue)],
    ["rTRC", curve],
    ["gTRC", curve],
    ["bTRC", curve],
  ]);
}

export const greyProfile = (gamma: number): Buffer =>
  profile("GRAY", [
    ["wtpt", xyz(d50)],
    ["kTRC", power(gamma)],
  ]);

export interface TiffContent {
  readonly columns: number;
  readonly rows: number;
  readonly bits: 8 | 16 | 32;
  /** Samples per pixel: 1 grey, 3 RGB, 4 RGB and opacity. */
  readonly perPixel: 1 | 3 | 4;
  /** One uncompressed strip, little-endian. */
  readonly data: Uint8Array;
  /** ExtraSamples: 1 premultiplied, 2 straight opacity. */
  readonly extraSample?: 1 | 2;
  /** SampleFormat: 1 unsigned, 3 floating point. */
  readonly sampleFormat?: 1 | 3;
  /** Declare the picture a reduced copy of another one. */
  readonly preview?: boolean;
}

/** Uncompressed TIFF 6.0. */
export function tiffFile(content: TiffContent): Buffer {
  const { columns, rows, bits, perPixel, data, extraSample, sampleFormat = 1, preview = false } = content;
  const SHORT = 3;
  const LONG = 4;
  const fields: [tag: number, type: number, values: number[]][] = [
    [254, LONG, [preview ? 1 : 0]],
    [256, LONG, [columns]],
    [257, LONG, [rows]],
    [258, SHORT, Array(perPixel).fill(bits)],
    [259, SHORT, [1]],
    [262, SHORT, [perPixel === 1 ? 1 : 2]],
    [273, LONG, [0]],
    [277, SHORT, [perPixel]],
    [278, LONG, [rows]],
    [279, LONG, [data.length]],
    ...(extraSample ? [[338, SHORT, [extraSample]] as [number, number, number[]]] : []),
    [339, SHORT, Array(perPixel).fill(sampleFormat)],
  ];
  const directory = Buffer.alloc(2 + 12 * fields.length + 4);
  directory.writeUInt16LE(fields.length, 0);
  const longFields: Buffer[] = [];
  let free = 8 + directory.length;
  fields.forEach(([tag, type, values], k) => {
    const at = 2 + 12 * k;
    const size = type === SHORT ? 2 : 4;
    const packed = Buffer.alloc(Math.max(4, size * values.length));
    values.forEach((value, i) => {
      packed.writeUIntLE(value, size * i, size);
    });
    directory.writeUInt16LE(tag, at);
    directory.writeUInt16LE(type, at + 2);
    directory.writeUInt32LE(values.length, at + 4);
    if (packed.length === 4) packed.copy(directory, at + 8);
    else {
      directory.writeUInt32LE(free, at + 8);
      longFields.push(packed);
      free += packed.length;
    }
  });
  const strip = fields.findIndex(([tag]) => tag === 273);
  directory.writeUInt32LE(free, 2 + 12 * strip + 8);
  return Buffer.concat([Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0]), directory, ...longFields, data]);
}
