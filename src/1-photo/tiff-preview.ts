/** NewSubfileType, and its bit for "a reduced-resolution version of another image in this file". Source: TIFF 6.0. */
const NEW_SUBFILE_TYPE = 254;
const REDUCED = 1;

/**
 * Whether the first picture of a TIFF is only a small copy of another picture in the file, as in camera raw files. Decoding them
 * as TIFF would silently engrave the thumbnail.
 *
 * @param bytes a whole file; false unless it begins with a classic TIFF header
 */
export function startsWithPreview(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.byteLength < 8) return false;
  const littleEndian = view.getUint16(0) === 0x4949;
  const directory = view.getUint32(4, littleEndian);
  if (view.getUint16(2, littleEndian) !== 42 || directory + 2 > view.byteLength) return false;
  const entries = view.getUint16(directory, littleEndian);
  for (let i = 0; i < entries; i++) {
    const entry = directory + 2 + 12 * i;
    if (entry + 12 > view.byteLength) return false;
    if (view.getUint16(entry, littleEndian) === NEW_SUBFILE_TYPE) {
      return (view.getUint32(entry + 8, littleEndian) & REDUCED) !== 0;
    }
  }
  return false;
}
