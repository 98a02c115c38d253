/** The kind of a file by its first bytes. It explains a refusal and never chooses a decoder. */
export interface FileKind {
  /** As part of a sentence: "a PDF document". */
  readonly name: string;
  /** True if it is a picture that can be decoded: then a failure means damage. */
  readonly readable: boolean;
  readonly isDrawing?: boolean;
  /** What to do, as a sentence. */
  readonly advice?: string;
}

interface Signature extends FileKind {
  readonly offset: number;
  /** One character per byte. */
  readonly starts: readonly string[];
}

const exportAdvice = "Export it as PNG, JPEG or TIFF and try again.";

/** First match wins. Signatures from the formats' own specifications. */
const signatures: readonly Signature[] = [
  { name: "a JPEG picture", readable: true, offset: 0, starts: ["\xff\xd8\xff"] },
  { name: "a PNG picture", readable: true, offset: 0, starts: ["\x89PNG\r\n\x1a\n"] },
  { name: "a GIF picture", readable: true, offset: 0, starts: ["GIF87a", "GIF89a"] },
  { name: "a WebP picture", readable: true, offset: 8, starts: ["WEBP"] },
  { name: "a TIFF picture", readable: true, offset: 0, starts: ["II*\0", "MM\0*", "II+\0", "MM\0+"] },
  { name: "an AVIF picture", readable: true, offset: 4, starts: ["ftypavif", "ftypavis"] },
  {
    name: "a HEIC photo",
    readable: true,
    offset: 4,
    starts: ["heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1"].map((brand) => `ftyp${brand}`),
  },
  {
    name: "a PDF document",
    readable: false,
    advice: "Export the page as PNG or SVG and try again.",
    offset: 0,
    starts: ["%PDF"],
  },
  {
    name: "a ZIP archive",
    readable: false,
    advice: "Unpack it and give the pictures inside.",
    offset: 0,
    starts: ["PK\x03\x04", "PK\x05\x06"],
  },
  { name: "a BMP picture", readable: false, advice: exportAdvice, offset: 0, starts: ["BM"] },
  {
    name: "a JPEG XL picture",
    readable: false,
    advice: exportAdvice,
    offset: 0,
    starts: ["\xff\x0a", "\0\0\0\x0cJXL "],
  },
  {
    name: "a JPEG 2000 picture",
    readable: false,
    advice: exportAdvice,
    offset: 0,
    starts: ["\0\0\0\x0cjP  ", "\xff\x4f\xff\x51"],
  },
  { name: "a layered PSD document", readable: false, advice: exportAdvice, offset: 0, starts: ["8BPS"] },
  {
    name: "a PostScript document",
    readable: false,
    advice: "Export it as SVG or PNG and try again.",
    offset: 0,
    starts: ["%!PS"],
  },
  {
    name: "a video",
    readable: false,
    advice: "Save one frame of it as PNG or JPEG.",
    offset: 4,
    starts: ["ftyp"],
  },
];

/** Number of bytes that must contain the root element of a drawing, as for the decoder. */
const SVG_PROLOGUE = 1000;

/** Undefined for an unknown kind. */
export function fileKind(bytes: Uint8Array): FileKind | undefined {
  const head = String.fromCharCode(...bytes.subarray(0, SVG_PROLOGUE));
  const known = signatures.find(({ offset, starts }) =>
    starts.some((start) => head.startsWith(start, offset)),
  );
  if (known) return known;
  // UTF-16 has a zero byte beside each of these letters.
  const isDrawing = head.replaceAll("\0", "").includes("<svg");
  return isDrawing ? { name: "an SVG drawing", readable: true, isDrawing } : undefined;
}
