export interface PngFacts {
  readonly columns: number;
  readonly rows: number;
  readonly bitDepth: number;
  readonly pixelsPerMetre: readonly [along: number, across: number] | undefined;
  /** Contents of all IDAT chunks, joined. */
  readonly compressed: Uint8Array;
}

/** The facts of a PNG's chunks (ISO/IEC 15948: IHDR first, pHYs before the first IDAT). */
export function readPngFacts(bytes: Buffer): PngFacts {
  let pixelsPerMetre: PngFacts["pixelsPerMetre"];
  const parts: Buffer[] = [];
  for (let at = 8; at + 12 <= bytes.length; at += 12 + bytes.readUInt32BE(at)) {
    const type = bytes.toString("latin1", at + 4, at + 8);
    if (type === "IDAT") parts.push(bytes.subarray(at + 8, at + 8 + bytes.readUInt32BE(at)));
    if (type === "pHYs" && bytes[at + 16] === 1)
      pixelsPerMetre = [bytes.readUInt32BE(at + 8), bytes.readUInt32BE(at + 12)];
  }
  return {
    columns: bytes.readUInt32BE(16),
    rows: bytes.readUInt32BE(20),
    bitDepth: bytes[24],
    pixelsPerMetre,
    compressed: Buffer.concat(parts),
  };
}
